"""The pages by name, in the order in which they are turned."""

from __future__ import annotations

from typing import Literal, get_args

PageName = Literal["trays", "lamp"]
PAGES: tuple[PageName, ...] = get_args(PageName)


def page_after(page: PageName, by: int = 1) -> PageName:
    """Return the page ``by`` places after another; after the last comes the first."""
    return PAGES[(PAGES.index(page) + by) % len(PAGES)]
