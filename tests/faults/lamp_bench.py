"""A bench of real processes with a lamp on mock pins, judged by the pins' own record and by the book."""

from __future__ import annotations

import signal
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from firmware_py.journal.print_outcome import PrintOutcome, print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.reading import JournalReader
from tests.service.served_bench import CLOCK, LAMP, Plain, ServedBench
from tests.switchboard.pin_watch import Span, spans

# What the design promises on a machine of its own.
DARK_WITHIN_S = 1.1
LAMP_SETTINGS = """
[lamp]
lag = "20 ms"
lag_doubt = "2 ms"
shortest = "30 ms"
pause = "0.1 s"
distance = "60 cm"
"""


@contextmanager
def lamp_bench(folder: Path, settings: str = LAMP_SETTINGS) -> Iterator[ServedBench]:
    """A bench whose controller runs; it is ended afterwards, if the test has not done so."""
    bench = ServedBench(folder)
    bench.warm(20.0)
    with bench.config.open("a", encoding="utf-8") as config:
        config.write(settings)
    bench.start()
    try:
        yield bench
    finally:
        if bench.process is not None and bench.process.poll() is None:
            bench.kill(signal.SIGTERM)
        for client in bench.clients:
            client.close()


def open_print(bench: ServedBench, base_s: float) -> Plain:
    """Open a print with a base time; return the client that did."""
    client = bench.client()
    done(client.do("open-print", negative="Skarn light", paper="contact paper"))
    done(client.do("set-base", base_s=base_s))
    return client


def done(answer: dict[str, Any]) -> None:
    """Fail with the refusal unless an act was done."""
    assert answer["message"] == "done", answer


def lamp(bench: ServedBench) -> list[Span]:
    """Every throw of the lamp, as its pin has it."""
    found: list[Span] = spans(bench.pin_record, LAMP)
    return found


def is_lit(bench: ServedBench) -> bool:
    """Whether the lamp's pin is on now."""
    lit = lamp(bench)
    return bool(lit) and lit[-1].off_s == float("inf")


def in_the_book(bench: ServedBench) -> PrintOutcome:
    """What the journal's entries alone say came of the one print."""
    with JournalReader.open(bench.journal) as journal:
        (print_id,) = journal.subjects("PrintOpened")
        return print_outcome(PrintRecord.replay(journal.read(print_id)))


def busyness_s() -> float:
    """Return what a fresh process costs here beyond a tenth of a second: a measure of how busy it is.

    The suite shares its cores with whatever else runs; twice that is allowed for starting and for running.
    """
    at_s = CLOCK.now_s()
    subprocess.run([sys.executable, "-c", "import asyncio"], check=True)
    return 2.0 * max(0.0, CLOCK.now_s() - at_s - 0.1)
