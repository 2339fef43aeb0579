"""The Logbook page: the list of runs, one run with its curve, two over one another, the advice for a box."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from firmware_py.service.book_questions import CurveView, PageOpened
from tui.moment import Moment
from tui.pages.logbook.advice_words import advice_lines
from tui.pages.logbook.deeds import LogbookDeeds
from tui.pages.logbook.keys import KEYS
from tui.pages.logbook.words import comparison, list_head, list_line, run_facts, run_title, steps_bar
from tui.pages.shared.binding import bindings
from tui.pages.shared.key_use import KeyUse
from tui.pages.shared.page import Page
from tui.pages.shared.rows import around, standing_out
from tui.pages.shared.time_words import cut, printable
from tui.widgets.curve import Curve
from tui.widgets.line import Line
from tui.widgets.wrapping import wrap

# What stands under a curve leaves it at least half of the page.
MOST_FACTS = 8
LEAVES = {"open_run": {"list"}, "next_run": {"list", "run"}, "compare": {"list", "run"}}


class LogbookPage(LogbookDeeds, Page, inherit_bindings=False):
    """The book; it is asked when the page is turned to, when something is found, and never on the tick."""

    NAME = "LOGBOOK"
    BINDINGS: ClassVar[list[BindingType]] = bindings(KEYS)

    def middle(self) -> Iterable[Widget]:
        """Give the list, and what one run is made of."""
        yield Line(id="title")
        yield Line(id="runs")
        yield Curve(id="curve")
        yield Line(id="run_steps")
        yield Line(id="run_facts")

    def on_screen_resume(self) -> None:
        """Read the list anew when turned to: runs have ended meanwhile."""
        super().on_screen_resume()
        self.read_list()

    @property
    def rows(self) -> int:
        """Get how many runs the list shows at once."""
        return max(1, self.line("runs").size.height - 1)

    def draw(self, moment: Moment) -> None:
        """Draw what has changed."""
        super().draw(moment)
        width = self.size.width
        match self.leaf:
            case "run" if self.page is not None:
                facts = [
                    part
                    for line in run_facts(self.page.run, self.page.exposures)
                    for part in _wrapped(line, width)
                ]
                self._lay(run_title(self.page.run), facts[:MOST_FACTS], _curves(self.page))
                self.line("run_steps").show(steps_bar(self.page.run, width))
            case "comparison" if self.page is not None and self.kept is not None:
                facts = [f" {line}" for line in comparison(self.kept.run, self.page.run, width - 2)]
                self._lay(" Two runs over one another", facts, _curves(self.kept, self.page))
            case "advice" if self.advised is not None:
                title, *lines = advice_lines(self.advised)
                self._lay(f" {title}", [part for line in lines for part in _wrapped(line, width)], ())
            case _:
                self._lay(self._list_title(), [], ())
                among_real = moment.view is not None and not moment.view.rehearsal
                self.line("runs").show(self._list(among_real=among_real))

    def offers(self, use: KeyUse) -> bool:
        """Return whether a key holds on the leaf that lies open."""
        if use.act in {"open_run", "next_run", "compare"}:
            return bool(self.found) and self.leaf in LEAVES[use.act]
        if use.act == "verdict" and self.leaf == "run" and self.page is not None:
            return self.page.run.sheet == "plate"
        return use.act != "back" or self.leaf != "list"

    def _lay(self, title: str, facts: list[str], curves: tuple[CurveView, ...]) -> None:
        """Give each part the room it has on this leaf."""
        is_list = self.leaf == "list"
        self.line("title").show(cut(title, self.size.width))
        self.line("runs").display = is_list
        curve = self.query_one("#curve", Curve)
        curve.display = bool(curves)
        curve.show(*curves)
        self.line("run_steps").display = self.leaf == "run"
        line = self.line("run_facts")
        line.display = not is_list
        line.set_class(not curves, "-alone")
        line.styles.height = len(facts) if curves else "1fr"
        line.show("\n".join(facts))

    def _list_title(self) -> str:
        if not self.is_read:
            return " The book is being read"
        of = f" Found: {printable(self.words)}" if self.words else " All runs, the newest first"
        if not self.found:
            return f"{of}: none" if self.words else " The book has no run yet"
        return f"{of}{'' if self.is_more else f': {len(self.found)}'}"

    def _list(self, *, among_real: bool) -> Content:
        width, rows = self.size.width, self.rows
        head = Content(list_head(width) if self.found else "")
        shown = [self._row(n, width, among_real) for n, _ in around(self.found, self.at, rows)]
        return Content("\n").join([head, *shown])

    def _row(self, number: int, width: int, among_real: bool) -> Content:
        run, here = self.found[number], number == self.at
        kept = self.kept is not None and self.kept.run.run_id == run.run_id
        words = list_line(run, width, here=here, kept=kept, among_real=among_real)
        return standing_out(words, width) if here else Content(words)


def _curves(*pages: PageOpened) -> tuple[CurveView, ...]:
    return tuple(page.curves[-1] for page in pages if page.curves)


def _wrapped(line: str, width: int) -> list[str]:
    start = line[: len(line) - len(line.lstrip())]
    return wrap(f" {line}", max(20, width - 1), subsequent_indent=f" {start}  ")
