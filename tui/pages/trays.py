"""The Trays page: the tray in focus large, the others a line each."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widget import Widget

from firmware_py.service.shapes import LaneView, StepView
from tui.deeds.trays import TrayDeeds
from tui.keys.binding import bindings
from tui.keys.trays import TRAY_KEYS
from tui.moment import Moment
from tui.pages.page import Page
from tui.widgets.asking import Asking
from tui.widgets.bar import with_bar
from tui.widgets.big_time import BigTime
from tui.widgets.line import Line
from tui.words.foot import foot_elsewhere
from tui.words.lane import LaneWords, lane_words, next_tick_s, one_line, step_here, urgency
from tui.words.times import cut, printable, time_words

STEPS_SHOWN = 8


class TraysPage(TrayDeeds, Page, inherit_bindings=False):
    """Up to six trays."""

    NAME = "TRAYS"
    BINDINGS: ClassVar[list[BindingType]] = bindings(TRAY_KEYS)

    def middle(self) -> Iterable[Widget]:
        """Give the trays and the marks."""
        yield Line(id="title")
        with Horizontal(id="body"):
            with Vertical(id="left"):
                yield Line(id="steps")
                yield Line(id="others")
            with Vertical(id="right"):
                yield Line(id="what")
                yield BigTime(id="time")
                for name in ("call", "equivalent", "bath", "cue", "foot", "held", "seen"):
                    yield Line(id=name)
        yield Line(id="marks")

    def on_asking_changed(self, event: Asking.Changed) -> None:
        """Give the room of the marks to a question, so that the large time keeps its own."""
        self.query_one("#marks").display = not event.open

    def draw(self, moment: Moment) -> None:
        """Draw what has changed."""
        super().draw(moment)
        self._draw_lane(_words(moment), foot_elsewhere(moment))
        self._draw_left(moment)
        self.line("marks").show(_marks(moment.lane, self.size.width))

    def advice(self, moment: Moment) -> tuple[str, ...]:
        """Return what the bench advises on the tray in focus."""
        return moment.lane.advice if moment.lane else ()

    def next_tick_s(self, moment: Moment) -> float:
        """Return when the large digits change."""
        return next_tick_s(moment.lane, moment.now_s) if moment.lane else 1.0

    def _draw_lane(self, words: LaneWords, elsewhere: tuple[str, str]) -> None:
        self.line("title").show(cut(words.title, self.size.width))
        right = self.query_one("#right")
        right.set_class(words.waiting, "-waiting")
        right.set_class(bool(elsewhere[0]), "-elsewhere")
        self.line("what").show(words.what)
        self.query_one("#time", BigTime).show(words.digits)
        self.line("call").show(words.call)
        self.line("equivalent").show(
            with_bar(words.equivalent, words.done, self.line("equivalent").size.width)
        )
        bath = self.line("bath")
        bath.set_class(words.bath_doubtful, "-doubtful")
        bath.show(words.bath)
        for name, text in (
            ("cue", words.cue),
            ("foot", elsewhere[0] or words.foot),
            ("held", elsewhere[1] or words.held),
            ("seen", words.seen),
        ):
            line = self.line(name)
            line.show(cut(text, line.size.width))

    def _draw_left(self, moment: Moment) -> None:
        width = self.query_one("#left").size.width - 1
        steps = _steps(moment.lane, width)
        line = self.line("steps")
        if line.styles.height is None or line.styles.height.value != len(steps):
            line.styles.height = len(steps)
        line.show(Content("\n").join(steps))
        self.line("others").show(Content("\n").join(_others(moment, width)))


def _words(moment: Moment) -> LaneWords:
    if moment.view is None:
        return LaneWords(what="No bench in sight yet")
    if moment.lane is None:
        return LaneWords(what="No plate on the bench", call="O: open a run for a plate")
    return lane_words(moment.lane, moment.now_s, moment.view.as_of_s)


def _steps(lane: LaneView | None, width: int) -> list[Content]:
    if lane is None:
        return []
    here = step_here(lane)
    number = lane.steps.index(here) if here else len(lane.steps)
    first = max(0, min(number - 2, len(lane.steps) - STEPS_SHOWN))
    return [_step(step, width) for step in lane.steps[first : first + STEPS_SHOWN]]


def _step(step: StepView, width: int) -> Content:
    name = printable(step.name)
    match step.place:
        case "here":
            return Content.styled(f" ► {cut(name, width - 9).upper():<{width - 9}} HERE ", "bold reverse")
        case "done":
            return Content(f"   {cut(name, width - 9):<{width - 9}} done")
        case "to come":
            time = time_words(round(step.planned_s))
            return Content(f"   {cut(name, width - 10):<{width - 10}} {time:>5}")


def _others(moment: Moment, width: int) -> list[Content]:
    if moment.view is None or moment.lane is None or len(moment.view.lanes) < 2:
        return []
    others = [lane for lane in moment.view.lanes if lane is not moment.lane]
    others.sort(key=lambda lane: urgency(lane, moment.now_s))
    lines = [Content(""), Content("OTHER TRAYS")]
    for lane in others:
        words = one_line(lane, moment.now_s, width)
        pressing = lane.state in {"due", "interrupted"}
        lines.append(Content.styled(f"{words:<{width}}", "bold reverse") if pressing else Content(words))
    return lines


def _marks(lane: LaneView | None, width: int) -> Content:
    if lane is None or not lane.mark_names or lane.state not in {"running", "due"}:
        return Content("")
    content, column = Content(""), 0
    for number, name in enumerate(lane.mark_names[:9], 1):
        words = printable(name)
        if column and column + len(words) + 4 > width:
            content, column = content + "\n", 0
        content += Content.assemble((f" {number} ", "reverse"), f" {words}  ")
        column += len(words) + 6
    return content
