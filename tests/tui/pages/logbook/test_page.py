"""The Logbook page: list, search, a run with its curve, two compared, advice, and a verdict by keys."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.book import JudgePlate
from firmware_py.facts.verdict import Verdict
from firmware_py.journal.store import Journal
from firmware_py.service.book_questions import FindRuns
from firmware_py.service.bookshelf import Bookshelf
from tests.journal.making import run_entries, subject
from tests.journal.making_verdicts import DRY, PRINTED, judged_run_entries
from tests.tui.pages.stage import stage
from tests.tui.sample_bench import bench, lane
from tui.pages.key_table import PAGES
from tui.pages.logbook.verdict_forms import read_measures

TO_LOGBOOK = ("0", str(PAGES.index("logbook") + 1))
HARD, FLAT, OPEN = subject(1), subject(2), subject(3)


@pytest.fixture(scope="module")
def shelf(tmp_path_factory):
    path = tmp_path_factory.mktemp("book") / "journal.db"
    with Journal.open(path) as journal:
        journal.append(judged_run_entries(HARD, PRINTED))
        journal.append(judged_run_entries(FLAT, replace(DRY, contrast="flat", density="thin"), readings=9))
        journal.append(run_entries(OPEN, plate="Slipway at dusk", ended=False))
        for n in range(10, 60):
            journal.append(run_entries(subject(n), plate=f"Net loft {n}", readings=3))
    return Bookshelf(path)


async def opened(on, shelf, *keys):
    """Turn to the Logbook if need be, then press keys, those of a piece one after another."""
    on.link.book = shelf.answer
    if on.screen.page != "logbook":
        await on.press(*TO_LOGBOOK)
    for piece in keys:
        await on.press(*piece.split())
    return on.text()


async def test_list_search_run_and_advice(tmp_path, shelf):
    async with stage(tmp_path, bench(lane()), own_s=0.0) as on:
        text = await opened(on, shelf, "down")
        assert "All runs, the newest first" in text
        assert "► 2026-03-14 Net loft 58" in text
        assert len(on.link.questions) == 1
        text = await opened(on, shelf, "pagedown", "pagedown", "pagedown", "pagedown")
        assert on.link.questions[1:] == [FindRuns(after=subject(30))]
        assert "half plate 7" in text
        # It stands still: nothing is asked on the tick.
        await on.show(bench(lane()))
        assert len(on.link.questions) == 2

        text = await opened(on, shelf, "f s t a i n enter")
        assert "Found: stain: 1" in text
        assert "rather dense, hard, fog" in text

        text = await opened(on, shelf, "enter")
        for words in (
            "half plate 7   half-plate   REHEARSAL",
            "▄▄▄▄",
            "0 min",
            "Box spring 1, pyro-soda, opened 2026-03-14 20:00 UTC",
            "Developed 6:01, worth 6:0",
            "Marks: 1 image appears 1:01",
            "Verdict: after printing: density rather dense, contrast hard, fog slight,",
            " B  back to the list",
        ):
            assert words in text
        assert "Enter  open" not in text

        text = await opened(on, shelf, "a")
        for words in (
            "Next plate of spring 1 in pyro-soda, REHEARSAL",
            " in 10 fit a paper of log range 1.05",
            "doubt     most:",
            "last ",
        ):
            assert words in text
        assert "Found: stain" in await opened(on, shelf, "escape")


async def test_two_runs_are_compared_and_what_can_not_be_is_said(tmp_path, shelf):
    async with stage(tmp_path, bench(lane()), size=(120, 36), own_s=0.0) as on:
        text = await opened(on, shelf, "f s p r enter", "c", "down", "c")
        for words in ("Two runs over one another", "SOLID LINE", "HATCHED LINE", "░░", "▄▄"):
            assert words in text
        (contrast,) = (line for line in text.splitlines() if "Contrast" in line)
        assert contrast.split() == ["Contrast", "flat", "hard"]

        text = await opened(on, shelf, "f backspace backspace backspace d u s k enter", "v")
        assert "a plate is judged when it is dry" in text
        on.rest()
        assert "of no box" in await opened(on, shelf, "a")

        def refuse(question):
            raise Refused("the disk is slow", where="journal")

        on.link.book = refuse
        await on.press("f", "enter")
        assert "No: journal: the disk is slow" in on.text()


VERDICT = Verdict(density="thin", contrast="rather hard", fog="slight")
CASES = [
    ("1 4 2 1", VERDICT),
    ("1 4 2 3 5 3 9 1 2", replace(VERDICT, after="printing", faults=("stain", "light leak"))),
    (
        "1 4 2 4 0 . 2 space 0 . 4 space - space 1 . 1 enter 5 o k enter 1",
        replace(VERDICT, fog_density=0.2, shadow_density=0.4, gamma=1.1, remark="ok"),
    ),
    ("1 4 escape", None),
]


async def test_verdicts_are_given_by_keys(tmp_path, shelf):
    async with stage(tmp_path, bench(lane())) as on:
        await opened(on, shelf, "f s t a i n enter")
        for keys, verdict in CASES:
            on.link.asked.clear()
            await opened(on, shelf, "v", keys)
            wanted = [JudgePlate(run=HARD, plate="half plate 7", verdict=verdict)] if verdict else []
            assert [act for act in on.link.asked if isinstance(act, JudgePlate)] == wanted


@pytest.mark.parametrize("text", ["", "a", "1 2 3 4 5", "0.2 - -- 1"])
def test_measures_that_are_none_are_refused(text):
    with pytest.raises(Refused):
        read_measures(text)
