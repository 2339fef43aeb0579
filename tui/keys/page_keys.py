"""The keys of each page of its own, and the pages that there are: those that have keys."""

from __future__ import annotations

from types import MappingProxyType

from tui.keys.baths import BATH_KEYS
from tui.keys.bench import BENCH_KEYS
from tui.keys.daylight import DAYLIGHT_KEYS
from tui.keys.lamp import LAMP_KEYS
from tui.keys.logbook import LOGBOOK_KEYS
from tui.keys.plates import PLATE_KEYS
from tui.keys.trays import TRAY_KEYS
from tui.keys.use import KeyUse
from tui.words.pages import PAGE_NAMES, PageName

PAGE_KEYS: MappingProxyType[PageName, tuple[KeyUse, ...]] = MappingProxyType(
    {
        "trays": TRAY_KEYS,
        "lamp": LAMP_KEYS,
        "baths": BATH_KEYS,
        "plates": PLATE_KEYS,
        "daylight": DAYLIGHT_KEYS,
        "logbook": LOGBOOK_KEYS,
        "bench": BENCH_KEYS,
    }
)
PAGES: tuple[PageName, ...] = tuple(page for page in PAGE_NAMES if PAGE_KEYS[page])


def page_after(page: PageName, by: int = 1) -> PageName:
    """Return the page ``by`` places after another; after the last comes the first."""
    return PAGES[(PAGES.index(page) + by) % len(PAGES)]
