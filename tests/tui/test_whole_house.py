"""All four processes on one terminal: screen and controller die, and the plate is developed all the same."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Iterator
from pathlib import Path

from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from tests.service.served_bench import CLOCK, SAFELIGHT, ServedBench, wait_for
from tests.tui.terminal_session import TerminalSession
from tui.gate.wishes import UNTESTED_RED as LEVEL


def controllers_of(bench: ServedBench) -> Iterator[int]:
    """Give the processes that serve the bench, found from outside by their command lines."""
    for entry in Path("/proc").iterdir():
        if entry.name.isdigit():
            try:
                words = (entry / "cmdline").read_bytes().split(b"\0")
            except OSError:
                continue
            if b"serve" in words and str(bench.config).encode() in words:
                yield int(entry.name)


def test_screen_and_controller_die_in_mid_run_and_nothing_is_lost(tmp_path: Path):
    """Killed screen: the run never notices. Killed controller: relays safe, and the run goes on whole."""
    bench = ServedBench(tmp_path)
    bench.warm(20.0)
    variables = {"EMBERTRAY_CONFIG": str(bench.config)}
    with TerminalSession(sys.executable, "-m", "tui.cli", level=LEVEL, variables=variables) as on:
        on.until_shown("How bright is this screen to be?")
        on.press("6\r")
        on.until_shown("No plate on the bench")
        (controller,) = controllers_of(bench)
        try:
            on.press("s")
            on.until_shown("safelight ON")
            on.press("o")
            on.until_shown("Which routine?")
            on.press("1")
            on.until_shown("Name of the plate")
            on.press("breakwater\r")
            on.until_shown("READY for")
            on.press(" ")
            on.until_shown("DEVELOP: time left")

            os.kill(on.children()[0], signal.SIGKILL)
            on.until_shown("ended by signal 9 (SIGKILL)")
            on.press(" ")
            on.until_shown("DEVELOP: time left")

            killed_s = CLOCK.now_s()
            os.kill(controller, signal.SIGKILL)
            on.until_shown("BENCH DISCONNECTED")
            # The guardian drives every line once more: what counts is the safelight's own.
            wait_for(lambda: not [on for _, line, on in bench.pins() if line == SAFELIGHT][-1])
            went_off = (s for s, line, is_on in bench.pins() if line == SAFELIGHT and not is_on)
            assert next(s for s in went_off if s >= killed_s) - killed_s < 1.1

            with Journal.open(bench.journal) as journal:
                (run_id,) = journal.subjects("RunOpened")
                before = journal.read(run_id)
            bench.start()
            on.until_gone("BENCH DISCONNECTED")
            on.until_shown("DEVELOP: time left")
            on.press("p")
            on.until_shown("RINSE")
            on.press("q")
            on.until_shown("type daylight")
            on.press("daylight\r")
            on.until_shown("NOT YET: run 1 is open (breakwater)")
            on.press("daylight\r")
            assert on.until_ended() == 0
        finally:
            if bench.process is not None:
                bench.kill(signal.SIGTERM)
            for left in controllers_of(bench):
                os.kill(left, signal.SIGKILL)
        assert on.strict.faults == []
    with Journal.open(bench.journal) as journal:
        after = journal.read(run_id)
    assert after[: len(before)] == before
    developed = RunRecord.replay(after).steps[0]
    assert developed.ended_s is not None
    # At the reference temperature, equivalent and real seconds are the same, deaths included.
    assert abs(developed.equivalent_s - (developed.ended_s - developed.started_s)) < 0.05
