"""What the book knows of a box reaches the tray, and nobody waits for it."""

from __future__ import annotations

import asyncio
import threading
from collections.abc import Sequence
from pathlib import Path

import pytest

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.controller import Controller
from firmware_py.bench.open_devices import Devices
from firmware_py.bench.show import show
from firmware_py.bench.trays.precedents import precedent
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import SimulatedClock
from firmware_py.devices.silent_sounder import SilentSounder
from firmware_py.facts.acts import run as acts
from firmware_py.journal.pulled import PulledPlates
from firmware_py.journal.store import Journal
from firmware_py.switchboard.commands import RelayWiring
from firmware_py.switchboard.link import InProcessSwitchboard
from tests.bench.trays_at_hand import DEVELOP, routine

ONE_STEP = routine(DEVELOP, name="one step")
OPEN = acts.OpenRun(plate="Kvarnvik 3", routine="one step", box="spring 1")


def test_earlier_pulls_come_to_a_least_a_middle_and_a_most():
    found = precedent([310.0, 250.0, 280.0, 290.0])
    assert found is not None
    assert (found.plates, found.low_s, found.median_s, found.high_s) == (4, 250.0, 285.0, 310.0)
    assert precedent([]) is None


def controller(journal: Journal, clock: SimulatedClock, precedents: object) -> Controller:
    bench = Bench(BenchPlan({"one step": ONE_STEP}, relays=("safelight",)), clock)
    board = InProcessSwitchboard((RelayWiring("safelight", pin=17),), clock)
    return Controller(bench, clock, Devices(board, SilentSounder("s")), journal, None, precedents)  # type: ignore[arg-type]


async def test_a_plate_pulled_this_evening_stands_beside_the_next_of_its_box(tmp_path: Path):
    """Through the journal and back."""
    clock = SimulatedClock(start_s=10.0)
    with Journal.open(tmp_path / "j.db") as journal:
        desk = controller(journal, clock, PulledPlates(journal.path))
        running = asyncio.ensure_future(desk.run())
        for act in (OPEN, acts.Proceed()):
            await desk.do(act)
        clock.jump_to(clock.now_s() + 100.0)
        await desk.do(acts.Pull())
        await desk.do(OPEN)
        lane = desk.bench.runs.lane(None)
        desk.stop("test")
        await running
    assert lane.precedent is not None
    assert lane.precedent.plates == 1
    assert lane.precedent.median_s >= 100.0


class SlowBook:
    """Answers only when it is let."""

    def __init__(self, answer: Sequence[float] | None) -> None:
        self.may_answer = threading.Event()
        self._answer = answer

    def pulled_at_s(self, box: str, developer: str, *, rehearsal: bool) -> Sequence[float]:
        assert (box, developer, rehearsal) == ("spring 1", "developer", False)
        self.may_answer.wait()
        if self._answer is None:
            raise Refused("the disk is slow", where="journal")
        return self._answer


@pytest.mark.parametrize(("answer", "plates"), [([280.0], 1), (None, None)])
async def test_a_slow_book_holds_up_nothing_and_a_broken_one_tells_nothing(
    tmp_path: Path, answer: list[float] | None, plates: int | None
):
    """At the usual speed the book is asked on a thread of its own."""
    book = SlowBook(answer)
    with Journal.open(tmp_path / "j.db") as journal:
        desk = controller(journal, SimulatedClock(speed=1.0), book)
        running = asyncio.ensure_future(desk.run())
        await desk.do(OPEN)
        await desk.do(acts.Proceed())
        assert show(desk.bench).lanes[0].precedent is None
        asked = desk.bench.revision
        book.may_answer.set()
        while desk.bench.runs.lane(None).precedent is None and answer is not None:
            asked = await desk.changed_since(asked)
        desk.stop("test")
        await running
    found = desk.bench.runs.lane(None).precedent
    assert (found.plates if found else None) == plates
