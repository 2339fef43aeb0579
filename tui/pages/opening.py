"""Makes each page when it is first turned to: a screen that opens must not wait for them all."""

from __future__ import annotations

from tui.pages.shared.page import Page
from tui.pages.shared.page_names import PageName


def open_page(page: PageName) -> Page:  # noqa: PLR0911 - one line for each page
    """Return a page of its own."""
    match page:
        case "trays":
            from tui.pages.trays.page import TraysPage

            return TraysPage()
        case "lamp":
            from tui.pages.lamp.page import LampPage

            return LampPage()
        case "baths":
            from tui.pages.baths.page import BathsPage

            return BathsPage()
        case "plates":
            from tui.pages.plates.page import PlatesPage

            return PlatesPage()
        case "daylight":
            from tui.pages.daylight.page import DaylightPage

            return DaylightPage()
        case "logbook":
            from tui.pages.logbook.page import LogbookPage

            return LogbookPage()
        case "bench":
            from tui.pages.bench.page import BenchPage

            return BenchPage()
