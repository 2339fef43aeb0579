"""No key meant for a text acts on the bench: ordinary sentences, typed into every dialog of every page.

Nothing here sleeps: the pause between two keys is the screen's own clock, which the test moves.
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from typing import Any

import pytest
from textual.widgets import Input

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.plate import EnterHolder
from firmware_py.facts.acts.print import StopExposure
from firmware_py.facts.acts.run import CutShort, Mark, Note, Pull, SwitchSafelight
from firmware_py.facts.views.bench import PhraseView
from firmware_py.journal.store import Journal
from firmware_py.service.bookshelf import Bookshelf
from tests.journal.making import subject
from tests.journal.making_verdicts import PRINTED, judged_run_entries
from tests.tui.pages.stage import Stage, key_pressed, stage
from tests.tui.sample_baths import heater, with_baths
from tests.tui.sample_bench import bench, fixing, lane, six_lanes
from tests.tui.sample_devices import wired_bench
from tests.tui.sample_plates import with_plates
from tests.tui.sample_print import a_print, broken_off, lamp, lit
from tui.pages.help.page import HelpPage
from tui.pages.key_table import PAGE_KEYS, PAGES, KeyUse, keys_on
from tui.pages.logbook.page import LogbookPage
from tui.pages.shared.page_names import PageName
from tui.typing_guard import TYPING_S
from tui.widgets.asking import Asking

PAUSES_S = (0.05, 0.15, 0.5)
SENTENCE = "sky up, pull 2 fog: x3"
PHRASES = (PhraseView(words="looks dense"), PhraseView(words="looks thin"))
AWAY: dict[str, Any] = {"state": "interrupted", "due_s": None, "equivalent_s": None, "next_cue": None}
BENCHES = {
    "trays": (
        bench(lane(), phrases=PHRASES, in_the_dark=("metol-hydroquinone",)),
        bench(fixing(1)),
        bench(lane(**AWAY)),
    ),
    "lamp": (
        bench(print=a_print(), lamp=lamp()),
        bench(print=broken_off(), lamp=lamp()),
        bench(foot_serves="lamp"),
    ),
    "baths": (with_baths(heater=heater()),),
    "plates": (with_plates(),),
    "daylight": (bench(lane()),),
    "logbook": (bench(lane()),),
    "bench": (wired_bench(),),
}
# A dialog is the keys that open it from its page. What leaves the screen opens none.
Dialog = tuple[str, ...]
DEEPEST = 3
# What a key asks of the bench is asked by a worker: begun, done and answered within so many turns.
TURNS = 6
WALK = [(page, at) for page in PAGES for at in range(len(BENCHES[page]))]


class Hands:
    """Presses keys on a stage with a pause before each, on the screen's own clock [s]."""

    def __init__(self) -> None:
        self.now_s = 100.0
        self.on: Stage | None = None

    async def press(self, *keys: str, pause_s: float = 2 * TYPING_S) -> None:
        """Hand each key to the screen itself: its queues are another test's matter, and cost 10 ms a key."""
        assert self.on is not None
        for key in keys:
            self.now_s += pause_s
            await self.on.screen.on_event(key_pressed(key))
            for _ in range(TURNS):
                await asyncio.sleep(0)

    async def type(self, text: str, pause_s: float) -> None:
        await self.press(*("space" if sign == " " else sign for sign in text), pause_s=pause_s)


@pytest.fixture(scope="module")
def shelf(tmp_path_factory):
    path = tmp_path_factory.mktemp("book") / "journal.db"
    with Journal.open(path) as journal:
        journal.append(judged_run_entries(subject(1), PRINTED))
    return Bookshelf(path)


@asynccontextmanager
async def hands(folder, view, shelf=None) -> AsyncIterator[tuple[Hands, Stage]]:
    pair = Hands()
    async with stage(folder, view, own_s=lambda: pair.now_s) as on:
        pair.on = on
        on.link.book = shelf.answer if shelf is not None else None
        yield pair, on


def question_of(on: Stage):
    asking = on.screen.screen.query(Asking)
    return asking.first().question if asking else None


async def back_to(page: PageName, pair: Hands, on: Stage, view) -> None:
    """Leave all that is asked, and come back to a page as it was."""
    while question_of(on) is not None or isinstance(on.screen.screen, HelpPage):
        await pair.press("escape")
    if on.screen.page != page or on.screen.view is not view:
        on.screen.turn_to(page)
        await on.show(view)
    if isinstance(here := on.screen.screen, LogbookPage) and here.words:
        here.words = ""
        here.read_list()
        await on.settle()
    on.link.asked.clear()
    on.rest()


def uses_of(page: PageName) -> tuple[KeyUse, ...]:
    """The keys of a page; those of every page only once, and not on every page again."""
    return keys_on(page) if page == "trays" else PAGE_KEYS[page]


async def walked(page: PageName, pair: Hands, on: Stage, view) -> list[Dialog]:
    """Every dialog that keys open from a page: by its own keys, then by each choice, yes, or a line kept."""
    uses = uses_of(page)
    ahead: list[Dialog] = [(use.keys[0],) for use in uses if use.keys[0] not in {"q", "k", "h"}]
    ahead += [(key,) for use in uses if use.numbered for key in use.keys[1:]]
    found: dict[str, Dialog] = {}
    while ahead:
        path = ahead.pop(0)
        await back_to(page, pair, on, view)
        await pair.press(*path)
        question = question_of(on)
        if question is None or question.words in found:
            continue
        found[question.words] = path
        if len(path) < DEEPEST:
            further = [("enter",), ("2", "enter")] if question.start is not None else []
            further += [(key,) for key in question.by_key] if question.choices else []
            ahead += [(*path, *keys) for keys in further]
    return list(found.values())


@pytest.mark.parametrize(("page", "at"), WALK)
async def test_a_sentence_typed_into_any_dialog_stays_there_and_nothing_acts(tmp_path, shelf, page, at):
    view = BENCHES[page][at]
    async with hands(tmp_path, view, shelf) as (pair, on):
        with on.screen.batch_update():
            dialogs = await walked(page, pair, on, view)
            assert dialogs or page == "bench"
            for path in dialogs:
                for pause_s in PAUSES_S:
                    await back_to(page, pair, on, view)
                    await pair.press(*path)
                    await on.settle()
                    on.link.asked.clear()
                    page_then, question = on.screen.page, question_of(on)
                    await pair.type(SENTENCE, pause_s)
                    assert on.link.asked == [], (path, pause_s)
                    assert on.screen.page == page_then, (path, pause_s)
                    assert not on.screen.is_black, (path, pause_s)
                    assert question is not None, path
                    assert question_of(on) is question, (path, pause_s)
                    if question.start is not None:
                        assert on.screen.screen.query_one(Input).value.endswith(SENTENCE)


@pytest.mark.parametrize("pause_s", PAUSES_S)
async def test_a_note_typed_at_once_is_a_note_and_the_plate_stays_in_its_developer(tmp_path, pause_s):
    async with hands(tmp_path, bench(lane(), phrases=PHRASES)) as (pair, on):
        await pair.press("n", "s", "k", "y", "space", "u", "p", "enter", pause_s=pause_s)
        assert on.link.asked == [Note(text="sky up", lane=1)]
        assert await refused_after(pair, on, "p") == [Pull(lane=1)]


async def refused_after(pair: Hands, on: Stage, key: str):
    on.link.asked.clear()
    await pair.press(key)
    return on.link.asked


async def test_keys_that_come_all_at_once_are_taken_in_their_order(tmp_path):
    """As from a terminal that was held up: not one key waits for the one before to be done."""
    async with hands(tmp_path, bench(lane())) as (_, on):
        for key in ("n", "s", "p", "backspace", "k", "y", "enter", "p", "0", "4", "n", "2", "9", "enter"):
            on.screen.post_message(key_pressed(key))
        await on.settle()
        assert on.link.asked == [Note(text="sky", lane=1), Pull(lane=1), EnterHolder(name="9")]
        assert on.screen.page == "plates"


@pytest.mark.parametrize("pause_s", PAUSES_S)
@pytest.mark.parametrize("page", PAGES)
async def test_what_is_typed_where_a_line_was_refused_does_nothing(tmp_path, page, pause_s):
    async with hands(tmp_path, bench()) as (pair, on):
        await on.turn_to(page)
        keys = [use.keys[0] for use in keys_on(page) if use.types]
        for key in keys:
            await back_to(page, pair, on, bench())
            await pair.press(key)
            if question_of(on) is None:
                await pair.type(SENTENCE, pause_s)
                await pair.press("enter", pause_s=pause_s)
                assert on.link.asked == [], key
                assert question_of(on) is None, key
                await pair.press("s")
                assert on.link.asked == [SwitchSafelight(on=False)], key


@pytest.mark.parametrize("pause_s", PAUSES_S)
async def test_keys_wait_for_a_question_that_is_fetched_from_the_book(tmp_path, shelf, pause_s):
    async with hands(tmp_path, bench(lane()), shelf) as (pair, on):
        await on.turn_to("logbook")
        answered = on.link.waits_for = asyncio.Event()
        await pair.press("v")
        await pair.type("sp", pause_s)
        assert on.link.asked == []
        answered.set()
        await on.settle()
        await pair.type("k m", pause_s)
        assert "its density" in question_of(on).words
        assert on.link.asked == []
        await pair.press("1")
        assert "its contrast" in question_of(on).words

        on.link.book = refusing
        await pair.press("escape", "v")
        await pair.type(SENTENCE, pause_s)
        assert on.link.asked == []
        assert question_of(on) is None


def refusing(question):
    raise Refused("the book cannot be read")


async def test_escape_lets_a_question_be_that_has_not_come_yet(tmp_path, shelf):
    async with hands(tmp_path, bench(lane()), shelf) as (pair, on):
        await on.turn_to("logbook")
        answered = on.link.waits_for = asyncio.Event()
        await pair.press("v", "escape", "s")
        answered.set()
        await on.settle()
        assert question_of(on) is None
        assert on.link.asked == [SwitchSafelight(on=False)]


async def test_a_line_that_goes_black_under_the_hands_takes_no_key_for_the_bench(tmp_path):
    in_the_dark = bench(lane(light_allowed="dark"), light_allowed="dark", rehearsal=False)
    async with hands(tmp_path, bench(lane(), rehearsal=False)) as (pair, on):
        await pair.press("n", "s")
        await on.show(in_the_dark)
        assert on.screen.is_black
        await pair.type("ky up, 1 pull", 0.5)
        assert on.link.asked == []
        await pair.press("p")
        assert on.link.asked == [Pull(lane=1)]


async def test_no_page_turns_under_the_hands_of_somebody_who_types(tmp_path):
    """A run that was opened turns to the Trays page: not while a remark is typed already."""
    async with hands(tmp_path, with_plates()) as (pair, on):
        await on.turn_to("plates")
        done = on.link.waits_for = asyncio.Event()
        await pair.press("o", "1", "n", "2")
        done.set()
        await on.settle()
        on.link.asked.clear()
        await pair.type("p s", 0.15)
        assert on.screen.page == "plates"
        assert on.link.asked == []


async def test_light_is_ended_at_once_whatever_was_typed(tmp_path):
    view = bench(print=a_print(), lamp=lit(mode="bulb"), foot_serves="lamp")
    async with hands(tmp_path, view) as (pair, on):
        await on.turn_to("lamp")
        await pair.press("n", "space", pause_s=0.05)
        assert on.link.asked == [StopExposure()]


async def test_capitals_act_like_small_letters_on_every_page(tmp_path):
    """Caps Lock in the dark: every letter of every page asks the same of the bench and of the person."""
    for page in PAGES:
        for view in BENCHES[page]:
            async with hands(tmp_path, view) as (pair, on):
                with on.screen.batch_update():
                    for use in uses_of(page):
                        for key in use.keys:
                            if len(key) > 1 or not key.isalpha() or key in "qkf":
                                continue
                            seen = []
                            for pressed in (key, key.upper()):
                                await back_to(page, pair, on, view)
                                await pair.press(pressed)
                                question = question_of(on)
                                words = question.words if question is not None else ""
                                seen.append((str(on.link.asked), words, type(on.screen.screen)))
                            assert seen[0] == seen[1], (page, key)


async def test_capitals_answer_questions_make_marks_and_stay_capitals_in_a_line(tmp_path):
    letters: dict[str, Any] = {"mark_keys": ("v", "z"), "mark_names": ("it shows", "fog")}
    async with hands(tmp_path, bench(lane(**letters))) as (pair, on):
        await pair.press("V", "N", "S", "p", "enter", "C")
        assert on.link.asked == [Mark(what="it shows", lane=1), Note(text="Sp", lane=1)]
        await on.show(bench(fixing(1)))
        on.link.asked.clear()
        await pair.press("C", "Y")
        assert on.link.asked == [CutShort(lane=1)]


async def test_the_same_key_three_times_is_no_text(tmp_path):
    async with hands(tmp_path, six_lanes()) as (pair, on):
        await pair.press("c", "x", "y", pause_s=0.5)
        assert question_of(on) is not None
        await pair.press("y", "y", pause_s=0.5)
        assert question_of(on) is None
