"""The Lamp page: the print part by part, the light that is given, and what the foot does next."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.content import Content
from textual.widget import Widget

from tui.moment import Moment
from tui.pages.lamp.deeds import LampDeeds
from tui.pages.lamp.keys import KEYS
from tui.pages.lamp.print_words import PartLine, open_print, print_lines, title
from tui.pages.lamp.words import LampWords, lamp_words, next_lamp_tick_s
from tui.pages.shared.binding import bindings
from tui.pages.shared.foot_words import foot_elsewhere
from tui.pages.shared.page import Page
from tui.pages.shared.rows import standing_out
from tui.pages.shared.time_words import cut
from tui.widgets.asking import Asking
from tui.widgets.bar import with_bar
from tui.widgets.big_time import BigTime
from tui.widgets.line import Line
from tui.widgets.wrapping import wrap

# Head, banner, title, one line of the body, foot, held, notices, keys.
FIXED_ROWS = 10


class LampPage(LampDeeds, Page, inherit_bindings=False):
    """Contact prints."""

    NAME = "LAMP"
    BINDINGS: ClassVar[list[BindingType]] = bindings(KEYS)

    def middle(self) -> Iterable[Widget]:
        """Give the print, the lamp and the foot."""
        yield Line(id="title")
        with Horizontal(id="body"):
            yield Line(id="print")
            with Vertical(id="right"):
                yield Line(id="what")
                yield BigTime(id="time")
                for name in ("call", "dose", "lamp"):
                    yield Line(id=name)
        yield Line(id="refusal")
        yield Line(id="lamp_foot")
        yield Line(id="lamp_held")

    def draw(self, moment: Moment) -> None:
        """Draw what has changed."""
        super().draw(moment)
        view = moment.view
        asking = self.is_asking
        self.set_class(asking, "-asking")
        words = (
            lamp_words(view, moment.now_s, asking=asking) if view else LampWords(what="No bench in sight yet")
        )
        self.line("title").show(cut(title(view), self.size.width) if view else "")
        self._draw_left(moment)
        self._draw_lamp(words)
        self._draw_foot(moment, words)

    def next_tick_s(self, moment: Moment) -> float:
        """Return when the large digits change."""
        return next_lamp_tick_s(moment.view.lamp, moment.now_s) if moment.view else 1.0

    def _draw_left(self, moment: Moment) -> None:
        left, here = self.line("print"), open_print(moment.view)
        width, rows = left.size.width - 2, left.size.height
        lines = print_lines(here, width, rows) if here is not None else []
        left.show(Content("\n").join(_part(line, width) for line in lines))

    def _draw_lamp(self, words: LampWords) -> None:
        self.query_one("#right").set_class(words.waiting, "-waiting")
        self.query_one("#time", BigTime).show(words.digits)
        for name, text in (("what", words.what), ("call", words.call), ("lamp", words.lamp)):
            line = self.line(name)
            line.show(cut(text, line.size.width))
        dose = self.line("dose")
        dose.show(with_bar(words.dose, words.share, dose.size.width))
        self._draw_refusal(words.refusal)

    def _draw_refusal(self, words: str) -> None:
        # Above the foot's line and as wide as the page: no question, and no large digit, takes its place.
        width = max(10, self.size.width - 2)
        lines = wrap(words, width, max_lines=self._refusal_rows(), placeholder=" …")
        self.line("refusal").fill([f" {words}" for words in lines])

    def _refusal_rows(self) -> int:
        """Return how many lines the refusal may fill, so that a question and a line of the body still fit."""
        question = self.query_one(Asking).question
        room = self.size.height - FIXED_ROWS - (question.rows if question else 0)
        return max(1, min(self.size.height // 4, room))

    def _draw_foot(self, moment: Moment, words: LampWords) -> None:
        elsewhere = foot_elsewhere(moment)
        foot = self.line("lamp_foot")
        foot.set_class(bool(elsewhere[0]), "-elsewhere")
        foot.show(cut(f" {elsewhere[0] or words.foot}", self.size.width))
        self.line("lamp_held").show(cut(f" {elsewhere[1] or words.held}", self.size.width))


def _part(line: PartLine, width: int) -> Content:
    return standing_out(line.words, width) if line.here else Content(line.words)
