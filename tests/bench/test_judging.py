"""A verdict reaches a run that has long left the bench, numbered as the book has it."""

from __future__ import annotations

import asyncio
from pathlib import Path

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import SimulatedClock
from firmware_py.facts.acts.book import JudgePlate
from firmware_py.facts.verdict import Verdict
from firmware_py.journal.judging import judge
from firmware_py.journal.pulled import PulledPlates
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.bench.test_precedents import controller
from tests.journal.making import run_entries, subject

OLD, OPEN, NONE = subject(1), subject(2), subject(3)
HARD = Verdict(contrast="hard", density="right", faults=("stain", "stain", "pinholes"))
SOFT = Verdict(contrast="flat", density="right", after="printing")


async def test_an_old_run_is_judged_twice_and_the_last_verdict_counts(tmp_path: Path):
    clock = SimulatedClock(start_s=10.0)
    with Journal.open(tmp_path / "j.db") as journal:
        journal.append(run_entries(OLD))
        desk = controller(journal, clock, PulledPlates(journal.path))
        running = asyncio.ensure_future(desk.run())
        # Both at once: the second must not be numbered by what the book said before the first.
        await asyncio.gather(*(desk.do(JudgePlate(run=OLD, verdict=said)) for said in (HARD, SOFT)))
        desk.stop("test")
        await running
        *_, first, second = journal.read(OLD)
        record = RunRecord.replay(journal.read(OLD))
    assert (first.event.faults, second.event.contrast) == (("stain", "pinholes"), "flat")  # type: ignore[union-attr]
    assert record.verdicts["half plate 7"].after == "printing"
    assert verify(tmp_path / "j.db").faults == []


async def test_a_run_that_is_not_there_or_not_over_takes_no_verdict(tmp_path: Path):
    clock = SimulatedClock(start_s=10.0)
    with Journal.open(tmp_path / "j.db") as journal:
        journal.append(run_entries(OPEN, ended=False))
        desk = controller(journal, clock, PulledPlates(journal.path))
        for run, said in ((NONE, "no such run"), (OPEN, "cannot take PlateJudged while")):
            with pytest.raises(Refused, match=said):
                await desk.do(JudgePlate(run=run, verdict=HARD))
        with pytest.raises(Refused, match="no such run"):
            desk.act(JudgePlate(run=OLD, verdict=HARD))
        assert journal.read(OPEN)[-1].number == len(run_entries(OPEN, ended=False))


def test_a_verdict_into_a_book_that_nobody_else_writes(tmp_path: Path):
    with Journal.open(tmp_path / "j.db") as journal:
        journal.append(run_entries(OLD))
        judge(journal, OLD, "", HARD, SimulatedClock(start_s=10.0))
        with pytest.raises(Refused, match="no plate"):
            judge(journal, OLD, "another", HARD, SimulatedClock(start_s=10.0))
        record = RunRecord.replay(journal.read(OLD))
    assert record.verdicts["half plate 7"].contrast == "hard"
