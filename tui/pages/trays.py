"""The Trays page: the tray in focus large, the others a line each."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap

from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widget import Widget

from firmware_py.service.shapes import LaneView, StepView
from tui.moment import Moment
from tui.pages.page import Page, filled
from tui.widgets.asking import Asking
from tui.widgets.big_time import BigTime
from tui.widgets.line import Line
from tui.words.bench import lost_words, notice_words, notices_in_order
from tui.words.lane import LaneWords, lane_words, one_line, step_here, urgency
from tui.words.times import cut, printable, time_words

STEPS_SHOWN = 8


class TraysPage(Page):
    """Up to six trays."""

    NAME = "TRAYS"

    def middle(self) -> Iterable[Widget]:
        """Give the trays, the marks, what the bench has to say, and the strip that asks."""
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
        yield Line(id="notices")
        yield Asking(id="asking")

    def key_words(self, moment: Moment) -> Content:
        """Return the keys of the question that is open, or those of the trays."""
        asking = self.query_one(Asking)
        if asking.question is None:
            return super().key_words(moment)
        return filled(list(asking.question.keys), self.size.width, 2)

    def on_asking_changed(self, event: Asking.Changed) -> None:
        """Give the room of the marks to a question, so that the large time keeps its own."""
        self.query_one("#marks").display = not event.open

    def draw(self, moment: Moment) -> None:
        """Draw what has changed."""
        super().draw(moment)
        self._draw_lane(_words(moment))
        self._draw_left(moment)
        self._line("marks").show(_marks(moment.lane, self.size.width))
        self._line("notices").show("\n".join(self._notices(moment)))

    def _draw_lane(self, words: LaneWords) -> None:
        self._line("title").show(cut(words.title, self.size.width))
        self.query_one("#right").set_class(words.waiting, "-waiting")
        self._line("what").show(words.what)
        self.query_one("#time", BigTime).show(words.digits)
        self._line("call").show(words.call)
        self._line("equivalent").show(_with_bar(words, self._line("equivalent").size.width))
        bath = self._line("bath")
        bath.set_class(words.bath_doubtful, "-doubtful")
        bath.show(words.bath)
        for name, text in (
            ("cue", words.cue),
            ("foot", words.foot),
            ("held", words.held),
            ("seen", words.seen),
        ):
            line = self._line(name)
            line.show(cut(text, line.size.width))

    def _draw_left(self, moment: Moment) -> None:
        width = self.query_one("#left").size.width - 1
        steps = _steps(moment.lane, width)
        line = self._line("steps")
        if line.styles.height is None or line.styles.height.value != len(steps):
            line.styles.height = len(steps)
        line.show(Content("\n").join(steps))
        self._line("others").show(Content("\n").join(_others(moment, width)))

    def _notices(self, moment: Moment) -> list[str]:
        advice = [f"! {printable(words)}" for words in (moment.lane.advice if moment.lane else ())]
        notices = notices_in_order(moment.view) if moment.view else []
        said = [moment.said] if moment.said else []
        if moment.lost is not None:
            said.append(lost_words(moment.lost, seen=moment.view is not None))
        matters = said + advice + [notice_words(notice, moment.now_s) for notice in notices]
        width = max(20, self.size.width - 2)
        lines = [line for words in matters for line in wrap(words, width, subsequent_indent="  ")]
        return lines[: self._line("notices").size.height]

    def _line(self, name: str) -> Line:
        return self.query_one(f"#{name}", Line)


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


def _with_bar(words: LaneWords, width: int) -> str:
    room = width - len(words.equivalent) - 2
    if words.done is None or room < 5:
        return words.equivalent
    full = min(room, int(words.done * room))
    return f"{words.equivalent}  {'█' * full}{'░' * (room - full)}"
