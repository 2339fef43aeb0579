"""Controller and switchboard killed or frozen in mid-exposure: real processes on mock pins.

Judged by the pins' own record, which outlives whatever wrote it.
"""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.faults.lamp_bench import (
    DARK_WITHIN_S,
    busyness_s,
    done,
    in_the_book,
    is_lit,
    lamp,
    lamp_bench,
    open_print,
)
from tests.service.served_bench import CLOCK, Plain, ServedBench, wait_for


@pytest.fixture
def bench(tmp_path: Path) -> Iterator[ServedBench]:
    with lamp_bench(tmp_path) as running:
        yield running


def wait_for_dark(client: Plain) -> None:
    """Wait until the lamp is out in the book too, and its pause is over."""
    wait_for(lambda: client.look()["lamp"]["state"] == "dark")


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


def switchboard_of(bench: ServedBench) -> int:
    assert bench.process is not None
    pid = bench.process.pid
    children = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii").split()
    words = {int(child): Path(f"/proc/{child}/cmdline").read_bytes().split(b"\0") for child in children}
    (switchboard,) = [child for child, said in words.items() if b"firmware_py.switchboard" in said]
    return switchboard
