"""The question that leads from page to page."""

from __future__ import annotations

from collections.abc import Callable

from tui.pages.key_table import PAGES
from tui.pages.shared.page_names import PageName
from tui.widgets.asking import Question


def page_question(turn_to: Callable[[PageName], None]) -> Question:
    """Ask for a page by its number, which is its place in their order."""
    named = {page.capitalize(): page for page in PAGES}
    return Question("Which page? Its number:", lambda name: turn_to(named[name]), choices=tuple(named))
