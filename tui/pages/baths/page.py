"""The Baths page: what is left of every bath, what the heater does, what each probe says."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.upkeep import BathView
from tui.moment import Moment
from tui.pages.baths.deeds import BathDeeds
from tui.pages.baths.keys import KEYS
from tui.pages.baths.warmth_words import heater_lines, probe_line
from tui.pages.baths.words import WARNED, WIDE_COLUMNS, bath_details, bath_heads, bath_line, verdict
from tui.pages.shared.binding import bindings
from tui.pages.shared.page import Page
from tui.pages.shared.rows import around, at_most, standing_out, wrapped
from tui.pages.shared.time_words import cut
from tui.widgets.asking import Asking
from tui.widgets.line import Line

# As many rows as the style sheet gives them.
MOST_PROBES, MOST_PROBES_WIDE = 3, 9
# Letters of a question that takes more rows of the smallest screen than heat and probes leave it.
LONG_QUESTION = 400


class BathsPage(BathDeeds, Page, inherit_bindings=False):
    """The baths of the bench, its heat and its thermometers."""

    NAME = "BATHS"
    BINDINGS: ClassVar[list[BindingType]] = bindings(KEYS)

    def middle(self) -> Iterable[Widget]:
        """Give the list, the bath that is chosen, heat and probes."""
        for name in ("title", "baths", "bath_detail", "heat", "probes"):
            yield Line(id=name)

    def on_asking_changed(self, event: Asking.Changed) -> None:
        """Give the room of heat and probes to a question, so that the list keeps its own.

        What a bath holds that is yet to be made needs the room of the chosen one as well.
        """
        for name in ("heat", "probes"):
            self.line(name).display = not event.open
        question = self.query_one(Asking).question
        self.line("bath_detail").display = question is None or len(question.words) < LONG_QUESTION

    def draw(self, moment: Moment) -> None:
        """Draw what has changed."""
        super().draw(moment)
        view, width = moment.view, self.size.width
        self.line("title").show(_title(view, width))
        if view is None:
            return
        moved = [
            self.line("heat").fill(
                wrapped(heater_lines(view.heater, moment.now_s, lost=moment.lost is not None), width)
            ),
            self.line("probes").fill(self._probes(view, moment.now_s)),
            self.line("bath_detail").fill(bath_details(self.bath, width) if self.bath else []),
        ]
        self.line("baths").show(self._list(view.baths))
        if any(moved):
            # The list has as many rows as the others leave it, known once they have theirs.
            self.call_after_refresh(self.post_message, self.Laid())

    def _list(self, baths: tuple[BathView, ...]) -> Content:
        at = baths.index(self.bath) if self.bath in baths else 0
        shown = around(baths, at, max(1, self.line("baths").size.height))
        return Content("\n").join(self._bath(bath, n + 1) for n, bath in shown)

    def _bath(self, bath: BathView, number: int) -> Content:
        here, width = bath == self.bath, self.size.width
        words = bath_line(bath, number, width, here=here)
        if here:
            return standing_out(words, width)
        return Content.styled(words, "bold") if verdict(bath) in WARNED else Content(words)

    def _probes(self, view: BenchView, now_s: float) -> list[str]:
        width = self.size.width
        lines = [cut(f" {probe_line(probe, now_s)}", width) for probe in view.probes]
        most = MOST_PROBES_WIDE if width >= WIDE_COLUMNS else MOST_PROBES
        return at_most(lines, most, "probes more: the Bench page has them all")


def _title(view: BenchView | None, width: int) -> str:
    if view is None:
        return ""
    return bath_heads(width) if view.baths else " No bath stands on the bench: M makes one"
