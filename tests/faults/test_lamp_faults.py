"""Real processes on mock pins: a whole print session, and everything killed or frozen in mid-exposure.

Judged by the pins' own record, which outlives whatever wrote it.
"""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from firmware_py.journal.print_outcome import PrintOutcome, print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.reading import JournalReader
from tests.service.served_bench import CLOCK, LAMP, Plain, ServedBench, wait_for
from tests.switchboard.pin_watch import Span, spans

# What the design promises on a machine of its own.
DARK_WITHIN_S = 1.1
LAG_S = 0.02
LAMP_SETTINGS = """
[lamp]
lag = "20 ms"
lag_doubt = "2 ms"
shortest = "30 ms"
pause = "0.1 s"
distance = "60 cm"
"""


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[ServedBench]:
    bench = ServedBench(tmp_path)
    bench.warm(20.0)
    with bench.config.open("a", encoding="utf-8") as config:
        config.write(LAMP_SETTINGS)
    bench.start()
    yield bench
    if bench.process is not None and bench.process.poll() is None:
        bench.kill(signal.SIGTERM)
    for client in bench.clients:
        client.close()


def open_print(bench: ServedBench, base_s: float) -> Plain:
    client = bench.client()
    done(client.do("open-print", negative="Skarn light", paper="contact paper"))
    done(client.do("set-base", base_s=base_s))
    return client


def done(answer: dict[str, Any]) -> None:
    assert answer["message"] == "done", answer


def lamp(bench: ServedBench) -> list[Span]:
    found: list[Span] = spans(bench.pin_record, LAMP)
    return found


def is_lit(bench: ServedBench) -> bool:
    lit = lamp(bench)
    return bool(lit) and lit[-1].off_s == float("inf")


def wait_for_dark(client: Plain) -> None:
    """Wait until the lamp is out in the book too, and its pause is over."""
    wait_for(lambda: client.look()["lamp"]["state"] == "dark")


def expose(client: Plain) -> None:
    """Press as a foot does; a press that came too soon after the last exposure is made again."""

    def lit_or_done() -> bool:
        before = client.look()["print"]
        client.do("move-foot", down=True)
        client.do("move-foot", down=False)
        view = client.look()
        return bool(view["lamp"]["state"] != "dark" or view["print"] != before)

    wait_for(lit_or_done)
    wait_for_dark(client)


def in_the_book(bench: ServedBench) -> PrintOutcome:
    with JournalReader.open(bench.journal) as journal:
        (print_id,) = journal.subjects("PrintOpened")
        return print_outcome(PrintRecord.replay(journal.read(print_id)))


def test_a_whole_session_is_in_the_book_as_the_pins_saw_it(bench: ServedBench):
    """Strip of seven, a choice, three prints with one burn, one of them broken off and completed."""
    client = open_print(bench, 0.3)
    done(client.do("serve-foot", to="lamp"))
    done(client.do("plan-strip", patches=7, step_stops=0.5, middle_s=0.3))
    for _ in range(7):
        expose(client)
    done(client.do("choose-patch", place=5.0))
    done(client.do("add-burn", stops=1.0, place="sky"))
    done(client.do("want-copies", copies=3))
    for _ in range(2):
        expose(client)
        expose(client)
    break_one_off_and_complete_it(client)
    assert client.look()["lamp"]["blocked"].startswith("lamp: all the prints wanted are made")

    wait_for(lambda: in_the_book(bench).prints == 3)  # the book is written behind the bench
    came, lit = in_the_book(bench), lamp(bench)
    exposures = [e for sheet in came.sheets for e in sheet.exposures]
    assert len(exposures) == len(lit) == 7 + 2 + 2 + 3
    for exposure, span in zip(exposures, lit, strict=True):
        # Stamps of one process a moment apart; a tenth covers a core that is taken away in between.
        assert exposure.measured_s == pytest.approx(span.off_s - span.on_s, abs=0.1)
        assert not exposure.estimated
    assert came.prints == 3
    assert [e.ended for e in exposures].count("stopped") == 1
    base_s = came.base_s or 0.0
    assert came.chosen_patch == 5.0
    for sheet in came.sheets[1:]:
        assert sheet.effective_s == pytest.approx(2.0 * base_s, abs=0.1)


def break_one_off_and_complete_it(client: Plain) -> None:
    wait_for(lambda: client.do("expose")["message"] == "done")
    wait_for(lambda: client.look()["lamp"]["state"] == "lit")
    done(client.do("move-foot", down=True))
    done(client.do("move-foot", down=False))
    wait_for_dark(client)
    assert client.look()["print"]["sheet"]["owed"] == "base"
    expose(client)
    expose(client)


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGSTOP])
def test_a_controller_killed_or_frozen_in_mid_exposure_leaves_a_measured_half(
    bench: ServedBench, number: signal.Signals
):
    """The switchboard ends it within 1.1 s, and its last words are in the book of the next controller."""
    client = open_print(bench, 60.0)
    done(client.do("expose"))
    wait_for(lambda: is_lit(bench))
    wait_for(lambda: client.look()["lamp"]["state"] == "lit")
    struck_s = strike(bench, number)
    wait_for(lambda: not is_lit(bench))
    (span,) = lamp(bench)
    assert span.off_s - struck_s < DARK_WITHIN_S
    wait_for(lambda: bench.journal.with_name("journal.db.lamp").exists())
    if number == signal.SIGSTOP:
        bench.kill()

    bench.start()
    client = bench.client()
    view = client.look()
    assert not view["lamp"]["on"]
    assert "(measured)" in view["print"]["interrupted"]
    wait_for(lambda: bool(in_the_book(bench).sheets[0].exposures))  # the book is written behind the bench
    (half,) = in_the_book(bench).sheets[0].exposures
    assert half.ended == "bench stopped"
    assert not half.estimated
    assert half.measured_s == pytest.approx(span.off_s - span.on_s, abs=0.1)
    assert len(lamp(bench)) == 1
    done(client.do("expose"))
    wait_for(lambda: is_lit(bench))
    done(client.do("stop-exposure"))


def strike(bench: ServedBench, number: signal.Signals) -> float:
    if number == signal.SIGKILL:
        return bench.kill()
    assert bench.process is not None
    at_s = CLOCK.now_s()
    bench.process.send_signal(number)
    return at_s


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGSTOP])
def test_a_switchboard_killed_or_frozen_in_mid_exposure_leaves_an_estimated_half(
    bench: ServedBench, number: signal.Signals
):
    """The controller clears the pins within 1.1 s, says so, marks the estimate, and the rest can be given."""
    client = open_print(bench, 60.0)
    done(client.do("expose"))
    wait_for(lambda: client.look()["lamp"]["state"] == "lit")
    busy_s = busyness_s()
    at_s = CLOCK.now_s()
    os.kill(switchboard_of(bench), number)
    wait_for(lambda: not is_lit(bench))
    (span,) = lamp(bench)
    assert span.off_s - at_s < DARK_WITHIN_S + busy_s
    wait_for(lambda: client.look()["lamp"]["state"] == "dark")
    wait_for(lambda: bool(in_the_book(bench).sheets[0].exposures))
    (half,) = in_the_book(bench).sheets[0].exposures
    assert half.ended == "switchboard lost"
    assert half.estimated
    assert abs(half.measured_s - (span.off_s - span.on_s)) <= half.doubt_s + 0.05
    wait_for(lambda: client.do("expose")["message"] == "done")
    wait_for(lambda: is_lit(bench))
    done(client.do("put-out"))
    wait_for_dark(client)


def busyness_s() -> float:
    """Return what a fresh process costs here beyond a tenth of a second: a measure of how busy it is.

    The suite shares its cores with whatever else runs; twice that is allowed for starting and for running.
    """
    at_s = CLOCK.now_s()
    subprocess.run([sys.executable, "-c", "import asyncio"], check=True)
    return 2.0 * max(0.0, CLOCK.now_s() - at_s - 0.1)


def switchboard_of(bench: ServedBench) -> int:
    assert bench.process is not None
    pid = bench.process.pid
    children = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii").split()
    words = {int(child): Path(f"/proc/{child}/cmdline").read_bytes().split(b"\0") for child in children}
    (switchboard,) = [child for child, said in words.items() if b"firmware_py.switchboard" in said]
    return switchboard
