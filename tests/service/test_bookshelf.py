"""A screen asks the book through the controller, and is told or refused."""

from __future__ import annotations

import asyncio
from pathlib import Path
from typing import Any

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import SimulatedClock
from firmware_py.journal.pulled import PulledPlates
from firmware_py.journal.store import Journal
from firmware_py.service.book_questions import Advised, AskAdvice, FindRuns, OpenPage, PageOpened, RunsFound
from firmware_py.service.bookshelf import Bookshelf, thinned
from firmware_py.service.client import Client
from firmware_py.service.server import Service
from tests.bench.test_precedents import controller
from tests.journal.making import run_entries, subject
from tests.journal.making_verdicts import judged_run_entries

RUNS = [subject(n) for n in range(1, 8)]


@pytest.fixture(scope="module")
def journal(tmp_path_factory):
    with Journal.open(tmp_path_factory.mktemp("book") / "journal.db") as journal:
        journal.append(judged_run_entries(RUNS[0]))
        for run in RUNS[1:]:
            journal.append(run_entries(run, readings=300 if run == RUNS[1] else 12))
        yield journal


def pages(shelf: Bookshelf, words: str) -> list[list[str]]:
    """Return the ids of the list page by page."""
    found, after = [], None
    while True:
        answer = shelf.answer(FindRuns(words=words, after=after, limit=3))
        assert isinstance(answer, RunsFound)
        found.append([run.run_id for run in answer.runs])
        if not answer.more:
            return found
        after = answer.runs[-1].run_id


@pytest.mark.parametrize("words", ["", "half pyro"])
def test_the_list_is_told_page_by_page_newest_first_each_run_once(journal, words):
    newest = RUNS[::-1]
    assert pages(Bookshelf(journal.path), words) == [newest[:3], newest[3:6], newest[6:]]


def test_a_page_is_told_with_a_curve_as_fine_as_a_screen(journal):
    answer = Bookshelf(journal.path).answer(OpenPage(run=RUNS[1]))
    assert isinstance(answer, PageOpened)
    (curve,) = answer.curves
    assert len(curve.points) == 240
    assert (curve.points[0].elapsed_s, curve.points[-1].elapsed_s) == (0.0, 9001.0)
    assert answer.run.equivalent_s == curve.points[-1].equivalent_s
    assert curve.target_s == 360.0


def test_thinning_keeps_the_ends():
    numbers: Any = range(10)
    assert list[Any](thinned(numbers, 4)) == [0, 3, 6, 9]


async def test_question_and_answer_cross_the_socket(journal, tmp_path: Path):
    clock = SimulatedClock(start_s=10.0, speed=1.0)
    desk = controller(journal, clock, PulledPlates(journal.path))
    service = Service(desk, tmp_path / "s", Bookshelf(journal.path))
    await service.start()
    client = Client(tmp_path / "s")
    seen = asyncio.Event()

    async def watch() -> None:
        async for _ in client.watch():
            seen.set()

    watching = asyncio.ensure_future(watch())
    await seen.wait()
    found = await client.ask(FindRuns(words="frilling"))
    told = await client.ask(AskAdvice(box="Spring 1"))
    with pytest.raises(Refused, match="no plate of it was judged yet"):
        await client.ask(AskAdvice(box="winter"))
    watching.cancel()
    client.close()
    await service.close()
    assert found == RunsFound(runs=(), more=False)
    assert isinstance(told, Advised)
    causes = {cause.name: cause.chance for cause in told.told.plates[-1].causes}
    assert causes["over-developed"] > 0.5
