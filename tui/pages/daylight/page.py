"""The Daylight page: what a plate needs in the camera at a place, a date and an hour; and the day's table."""

from __future__ import annotations

import asyncio
from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.containers import Horizontal, Vertical
from textual.widget import Widget

from firmware_py.service.book_questions import AskAdvice
from tui.moment import Moment
from tui.pages.daylight.deeds import DaylightDeeds
from tui.pages.daylight.keys import KEYS
from tui.pages.daylight.outing_words import OutingWords, remember_outing, remembered_outing
from tui.pages.daylight.words import field_lines
from tui.pages.shared.binding import bindings
from tui.pages.shared.page import Page
from tui.pages.shared.time_words import cut
from tui.widgets.big_time import BigTime
from tui.widgets.line import Line
from tui.widgets.wrapping import wrap

if TYPE_CHECKING:
    from tui.pages.daylight.sunlight import Sunlight

# Who plans in the evening means the next day's noon rather than the dark outside.
DAY = range(8, 17)


class _FittedLine(Line):
    """Text that is cut to the width it has: what was not shown has none, and is drawn once it gets one."""

    def on_resize(self) -> None:
        """Ask for the page to be drawn."""
        self.post_message(Page.Laid())


class DaylightPage(DaylightDeeds, Page, inherit_bindings=False):
    """Camera exposure by daylight."""

    NAME = "DAYLIGHT"
    BINDINGS: ClassVar[list[BindingType]] = bindings(KEYS)

    def __init__(self) -> None:
        super().__init__()
        self._words: OutingWords | None = None
        self._came: Sunlight | None = None
        self._reckoned: OutingWords | None = None

    def middle(self) -> Iterable[Widget]:
        """Give what is said, the large result, and the table."""
        with Horizontal(id="body"):
            yield _FittedLine(id="said")
            with Vertical(id="result"):
                yield Line(id="what")
                yield BigTime(id="time")
                yield _FittedLine(id="told")
        yield _FittedLine(id="day")

    def on_screen_resume(self) -> None:
        """Ask the book anew what it has learned of the box: plates have been judged meanwhile."""
        super().on_screen_resume()
        if self.words.box:
            self.desk.look_up(AskAdvice(box=self.words.box), self.learn)

    @property
    def words(self) -> OutingWords:
        """Get what is said; date and hour are the bench's own until somebody says others."""
        words = self._words or remembered_outing(self.desk.state)
        if not words.day and self.desk.view is not None:
            now = datetime.fromisoformat(self.desk.view.utc).astimezone()
            words = replace(words, day=f"{now:%Y-%m-%d}", hour=f"{now:%H:00}" if now.hour in DAY else "12:00")
        self._words = words
        return words

    def change(self, words: OutingWords) -> None:
        """Say something else, keep it, and reckon anew."""
        self._words = words
        remember_outing(words, self.desk.state)
        self.redraw()

    def redraw(self) -> None:
        """Draw the page as it is now."""
        self.draw(self.desk.moment())

    def draw(self, moment: Moment) -> None:
        """Draw what has changed."""
        super().draw(moment)
        words = self.words
        if words != self._reckoned:
            self._reckoned, self._came = words, None
            self.run_worker(self._reckon(words), exclusive=True)
        said = self.line("said")
        said.show("\n".join(cut(line, said.size.width) for line in field_lines(words)))
        self._draw_result(words)
        self._draw_table()

    async def _reckon(self, words: OutingWords) -> None:
        # On a thread: what it imports takes longer than a key may wait.
        self._came = await asyncio.to_thread(_reckoned, words)
        self.redraw()

    def _draw_result(self, words: OutingWords) -> None:
        came = self._came
        what = "Reckoning" if came is None else ""
        if came is not None and came.unit:
            what = f"At {words.stop}: {came.unit}"
        self.line("what").show(what)
        self.query_one("#time", BigTime).show(came.digits if came is not None else "")
        told = self.line("told")
        lines = (came.refused,) if came is not None and came.refused else (came.lines if came else ())
        width = max(20, told.size.width)
        told.show("\n".join(part for line in lines for part in wrap(line.strip(), width)))

    def _draw_table(self) -> None:
        table = _fitted(self._came.table, self.size.width) if self._came is not None else []
        body, day = self.query_one("#body"), self.line("day")
        rows = max(2, body.size.height, day.size.height)
        step = self.table_from * (rows - 1)
        if self.table_from < 0 or step >= len(table):
            self.table_from = -1
        shown = self.table_from >= 0
        if day.display != shown:
            body.display, day.display = not shown, shown
        if shown:
            rest = table[step:]
            more = [*rest[: rows - 1], "D: further down"] if len(rest) > rows else rest
            day.show("\n".join(cut(f" {line}", self.size.width) for line in more))


def _fitted(table: Iterable[str], width: int) -> list[str]:
    """Return a table with its lines of words carried over where they are too long; rows stay as they are."""
    return [part for line in table for part in (wrap(line, width - 1) if len(line) >= width else [line])]


def _reckoned(words: OutingWords) -> Sunlight:
    from firmware_py.craft.dates import load
    from tui.pages.daylight.sunlight import reckon

    load()  # the next thing that is typed may be "tomorrow"
    return reckon(words)
