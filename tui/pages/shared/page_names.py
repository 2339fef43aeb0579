"""The pages by name, in the order in which they are turned."""

from __future__ import annotations

from typing import Literal, TypeGuard, get_args

PageName = Literal["trays", "lamp", "baths", "plates", "daylight", "logbook", "bench"]
FootPage = Literal["trays", "lamp"]
PAGE_NAMES: tuple[PageName, ...] = get_args(PageName)
FOOT_PAGES: tuple[FootPage, ...] = get_args(FootPage)


def has_foot(page: PageName) -> TypeGuard[FootPage]:
    """Return whether the foot switch can serve a page."""
    return page in FOOT_PAGES
