"""The Help page, made from the key table."""

from __future__ import annotations

from collections.abc import Iterable
from textwrap import wrap

from textual import events
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widget import Widget

from tui.keys import KEYS, KeyUse
from tui.moment import Moment
from tui.pages.page import Page, filled
from tui.widgets.line import Line

BEYOND_KEYS = (
    "A key that is held down counts once. Escape only leaves what is being asked; it ends nothing.",
    "If the screen hangs: Ctrl and \\ together, three times. The bench and its runs go on without a screen.",
)


SCROLLING = frozenset({"up", "down", "pageup", "pagedown", "home", "end"})


class HelpPage(Page):
    """Every key in words."""

    NAME = "HELP"

    def middle(self) -> Iterable[Widget]:
        """Give the table of keys."""
        yield VerticalScroll(Line(id="help"), id="help_body")

    def on_key(self, event: events.Key) -> None:
        """Go back on any key that does not scroll."""
        if event.key not in SCROLLING:
            event.stop()
            self.dismiss()

    def draw(self, moment: Moment) -> None:
        """Draw the table for the width of the screen."""
        super().draw(moment)
        content = help_text(self.size.width - 3)
        line = self.query_one("#help", Line)
        line.styles.height = len(content.split("\n"))
        line.show(content)

    def key_words(self, moment: Moment) -> Content:  # noqa: ARG002 - the same keys at every moment
        """Return the keys of this page."""
        return filled([("↑ ↓", "more"), ("any other key", "back to the trays")], self.size.width, 2)


def help_text(width: int) -> Content:
    """Return the key table as text for ``width`` columns."""
    lines = [line for use in KEYS for line in _entry(use, width)]
    for words in BEYOND_KEYS:
        lines += [Content(""), *map(Content, wrap(words, width))]
    return Content("\n").join(lines)


def _entry(use: KeyUse, width: int) -> list[Content]:
    indent = 9
    body = wrap(f"{use.where.upper()}: {use.help}", max(20, width - indent))
    key = Content.assemble((f" {use.label} ", "reverse"), " " * (indent - len(use.label) - 2))
    return [key + body[0], *(Content(" " * indent + line) for line in body[1:])]
