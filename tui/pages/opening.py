"""Makes each page when it is first turned to: a screen that opens must not wait for them all."""

from __future__ import annotations

from tui.pages.page import Page
from tui.words.pages import PageName


def open_page(page: PageName) -> Page:  # noqa: PLR0911 - one line for each page
    """Return a page of its own."""
    match page:
        case "trays":
            from tui.pages.trays import TraysPage

            return TraysPage()
        case "lamp":
            from tui.pages.lamp import LampPage

            return LampPage()
        case "baths":
            from tui.pages.baths import BathsPage

            return BathsPage()
        case "plates":
            from tui.pages.plates import PlatesPage

            return PlatesPage()
        case "daylight":
            from tui.pages.daylight import DaylightPage

            return DaylightPage()
        case "logbook":
            from tui.pages.logbook import LogbookPage

            return LogbookPage()
        case "bench":
            from tui.pages.bench import BenchPage

            return BenchPage()
