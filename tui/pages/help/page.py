"""The Help page, made from the key table."""

from __future__ import annotations

from collections.abc import Iterable

from textual.containers import VerticalScroll
from textual.content import Content
from textual.widget import Widget

from firmware_py.service.foot_rows import lamp_foot_rows
from tui.moment import Moment
from tui.pages.key_table import EVERYWHERE, PAGE_KEYS, PAGES, KeyUse
from tui.pages.shared.page import Page, filled
from tui.pages.shared.page_names import PageName
from tui.widgets.line import Line
from tui.widgets.wrapping import wrap

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

    def take_key(self, key: str, sign: str) -> bool:  # noqa: ARG002 - any key will do
        """Go back on any key that does not scroll."""
        if key in SCROLLING:
            return False
        if self.is_current:  # a second key may come before the page has gone
            self.dismiss()
        return True

    def draw(self, moment: Moment) -> None:
        """Draw the table for the width of the screen."""
        super().draw(moment)
        content = help_text(self.size.width - 3, moment.page)
        line = self.query_one("#help", Line)
        line.styles.height = len(content.split("\n"))
        line.show(content)

    def key_words(self, moment: Moment) -> Content:  # noqa: ARG002 - the same keys at every moment
        """Return the keys of this page."""
        return filled([("↑ ↓", "more"), ("any other key", "back to the page")], self.size.width, 2)


def help_text(width: int, page: PageName) -> Content:
    """Return the key table as text for ``width`` columns: that of ``page`` first."""
    lines = _part(page, width)
    lines += [
        Content(""),
        Content("EVERYWHERE"),
        *(line for use in EVERYWHERE for line in _entry(use, width)),
    ]
    for words in BEYOND_KEYS:
        lines += [Content(""), *map(Content, wrap(words, width))]
    for other in PAGES:
        if other != page:
            lines += [Content(""), *_part(other, width)]
    return Content("\n").join(lines)


def _part(page: PageName, width: int) -> list[Content]:
    lines = [Content(page.upper()), *(line for use in PAGE_KEYS[page] for line in _entry(use, width))]
    return [*lines, *_foot_table(width)] if page == "lamp" else lines


def _foot_table(width: int) -> list[Content]:
    lines = [Content(""), Content("THE FOOT AT THE LAMP")]
    for row in lamp_foot_rows():
        deeds = (("down", row.down), ("short", row.short), ("held long", row.long), ("lifted", row.lift))
        said = "; ".join(f"{how}: {what}" for how, what in deeds if what) or "nothing"
        lines += map(Content, wrap(f"{row.situation}: {said}", width, subsequent_indent="  "))
    return lines


def _entry(use: KeyUse, width: int) -> list[Content]:
    indent = 9
    body = wrap(f"{use.where.upper()}: {use.help}", max(20, width - indent))
    key = Content.assemble((f" {use.label} ", "reverse"), " " * (indent - len(use.label) - 2))
    return [key + body[0], *(Content(" " * indent + line) for line in body[1:])]
