"""The Trays page: what is most urgent on top, the tray in focus large, every tray in a line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widget import Widget

from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.run import LaneView, StepView
from tui.moment import Moment
from tui.pages.plates.words import waiting_plates
from tui.pages.shared.binding import bindings
from tui.pages.shared.foot_words import foot_elsewhere
from tui.pages.shared.page import Page
from tui.pages.shared.rows import standing_out
from tui.pages.shared.time_words import cut, cut_between, printable, time_words
from tui.pages.trays.deeds import TrayDeeds
from tui.pages.trays.development_words import book_words
from tui.pages.trays.keys import KEYS
from tui.pages.trays.list_words import is_pressing, now_line, one_line
from tui.pages.trays.mark_words import mark_lines
from tui.pages.trays.words import (
    LaneWords,
    is_developing,
    lane_words,
    next_tick_s,
    step_here,
    untested_elsewhere,
)
from tui.widgets.asking import Asking
from tui.widgets.bar import with_bar
from tui.widgets.big_time import BigTime
from tui.widgets.line import Line

STEPS_SHOWN = 8
FAIR_CHANCE = 0.25  # of a plate that the book's time is shown for: own


class TraysPage(TrayDeeds, Page, inherit_bindings=False):
    """Up to six trays."""

    NAME = "TRAYS"
    BINDINGS: ClassVar[list[BindingType]] = bindings(KEYS)

    def middle(self) -> Iterable[Widget]:
        """Give what is most urgent, the trays, the foot and the marks."""
        yield Line(id="now")
        yield Line(id="title")
        with Horizontal(id="body"):
            with Vertical(id="left"):
                yield Line(id="steps")
                yield Line(id="others")
            with Vertical(id="right"):
                yield Line(id="what")
                yield BigTime(id="time")
                for name in ("call", "precedent", "equivalent", "bath"):
                    yield Line(id=name)
        for name in ("foot", "seen", "marks"):
            yield Line(id=name)

    def on_asking_changed(self, event: Asking.Changed) -> None:
        """Give the room of marks and foot to a question, so that the large time keeps its own."""
        for name in ("foot", "seen", "marks"):
            self.line(name).display = not event.open

    def take_key(self, key: str, sign: str) -> bool:  # noqa: ARG002 - a mark's key is its sign
        """Make the mark whose own key was pressed, where the page has no other use for that key."""
        return bool(sign) and self.check_action("mark", ()) is True and self.mark_by(sign)

    def draw(self, moment: Moment) -> None:
        """Draw what has changed."""
        super().draw(moment)
        self._draw_now(moment)
        if moment.lane is not None:
            self.ask_book(moment.lane, moment.now_s)
        self._draw_lane(self._by_the_book(_words(moment), moment.lane), foot_elsewhere(moment))
        self._draw_left(moment)
        self.line("marks").show(_marks(moment.lane, self.size.width))

    def _by_the_book(self, words: LaneWords, lane: LaneView | None) -> LaneWords:
        """Return the words with what the book says of this plate, in place of where others were pulled.

        Not where no time gives it a fair chance: its exposure is what is wrong, and no time mends that.
        """
        target = self.targets.get(lane.run_id) if lane is not None and is_developing(lane) else None
        if target is None or target.chance < FAIR_CHANCE:
            return words
        return replace(words, precedent=book_words(target))

    def advice(self, moment: Moment) -> tuple[str, ...]:
        """Return what the bench advises on the tray in focus."""
        return moment.lane.advice if moment.lane else ()

    def next_tick_s(self, moment: Moment) -> float:
        """Return when the large digits change."""
        return next_tick_s(moment.lane, moment.now_s) if moment.lane else 1.0

    def _draw_now(self, moment: Moment) -> None:
        words, pressing = now_line(moment.view, moment.now_s) if moment.view is not None else ("", False)
        now = self.line("now")
        now.set_class(pressing, "-pressing")
        now.show(cut(f" {words}", self.size.width))

    def _draw_lane(self, words: LaneWords, elsewhere: tuple[str, str]) -> None:
        width = self.size.width
        room = width - len(words.light) - 2
        self.line("title").show(f" {cut(words.title, room - 2):<{room}}{words.light}")
        right = self.query_one("#right")
        right.set_class(words.waiting, "-waiting")
        self.query_one("#time", BigTime).show(words.digits)
        for name, text in (("what", words.what), ("call", words.call), ("precedent", words.precedent)):
            self._show(name, text)
        equivalent = self.line("equivalent")
        self._show("equivalent", with_bar(words.equivalent, words.done, equivalent.size.width))
        self.line("bath").set_class(words.bath_doubtful, "-doubtful")
        self._show("bath", words.bath)
        foot = self.line("foot")
        foot.set_class(bool(elsewhere[0]), "-elsewhere")
        said = elsewhere if elsewhere[0] else (words.foot, words.held)
        foot.show(cut("   ".join(f" {part}" for part in said if part), width))
        self.line("seen").show(_fitted(f" {words.seen}", width))

    def _show(self, name: str, text: str) -> None:
        """Show a line beside the trays; one that has nothing to say leaves its room to the large digits."""
        line = self.line(name)
        if name != "call":
            line.display = bool(text)
        line.show(cut(text, line.size.width) if line.size.width else text)

    def _draw_left(self, moment: Moment) -> None:
        left = self.query_one("#left")
        width = left.size.width - 1
        trays = _trays(moment, width)
        steps = _steps(moment.lane, width, left.size.height - len(trays))
        self.line("steps").fill(steps)
        self.line("others").show(Content("\n").join(trays))


def _fitted(seen: str, width: int) -> str:
    """Return the cue to come and the marks made, only whole marks of these where there are more."""
    start, word, marks = seen.rpartition("Seen: ")
    room = width - len(start) - len(word)
    if not word or room <= 0:
        return cut(seen, width)
    return f"{start}{word}{cut_between(marks, room, between=', ')}"


def _words(moment: Moment) -> LaneWords:
    if moment.view is None:
        return LaneWords(what="No bench in sight yet")
    if moment.lane is None:
        return LaneWords(
            what="No plate on the bench", call="O: open a run for a plate", precedent=_waiting(moment.view)
        )
    words = lane_words(moment.lane, moment.now_s, moment.view.as_of_s)
    lights = (words.light, untested_elsewhere(moment.lane, moment.view))
    words = replace(words, light="   ".join(filter(None, lights)))
    if words.precedent or not _is_bath_unnamed(moment.lane, moment.view):
        return words
    return replace(words, precedent="Not a bath of the book: name one on the Baths page")


def _is_bath_unnamed(lane: LaneView, view: BenchView) -> bool:
    """Return whether developers stand in the book, and yet none of them is the one that comes next."""
    step = step_here(lane)
    comes = lane.state == "ready" and step is not None and step.kind == "develop" and not step.bath_name
    return comes and any(bath.kind == "developer" for bath in view.baths)


def _waiting(view: BenchView) -> str:
    """Return what waits for a run, or where the work before it is done."""
    exposed = len(waiting_plates(view.plates))
    if not exposed:
        return "Page 3 makes baths, page 4 loads plates (0 turns)"
    return f"{exposed} exposed plate{'s wait: O offers them' if exposed > 1 else ' waits: O offers it'}"


def _steps(lane: LaneView | None, width: int, rows: int) -> list[Content]:
    if lane is None:
        return []
    shown = max(1, min(STEPS_SHOWN, rows))
    here = step_here(lane)
    number = lane.steps.index(here) if here else len(lane.steps)
    first = max(0, min(number - 1, len(lane.steps) - shown))
    return [_step(step, width) for step in lane.steps[first : first + shown]]


def _step(step: StepView, width: int) -> Content:
    name = printable(step.name)
    match step.place:
        case "here":
            return Content.styled(f" ► {cut(name, width - 9).upper():<{width - 9}} HERE ", "bold")
        case "done":
            return Content(f"   {cut(name, width - 9):<{width - 9}} done")
        case "to come":
            time = time_words(round(step.planned_s))
            return Content(f"   {cut(name, width - 10):<{width - 5 - len(time)}} {time}")


def _trays(moment: Moment, width: int) -> list[Content]:
    """Return every tray in a line, the most urgent first, where there is more than one."""
    view = moment.view
    if view is None or moment.lane is None or len(view.lanes) < 2:
        return []
    lines = [Content(""), Content(f" TRAYS ↑ ↓  keys act on [{moment.lane.lane}]")]
    for lane in view.lanes:
        words = one_line(lane, moment.now_s, width, in_focus=lane is moment.lane)
        pressing = is_pressing(lane)
        lines.append(standing_out(words, width) if pressing else Content(words))
    return lines


def _marks(lane: LaneView | None, width: int) -> Content:
    if lane is None or lane.state not in {"running", "due"}:
        return Content("")
    lines = mark_lines(lane, width)
    return Content("\n").join(
        Content("").join(Content.assemble((f" {key} ", "reverse"), f" {words}  ") for key, words in line)
        for line in lines
    )
