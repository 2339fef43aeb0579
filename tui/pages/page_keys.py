"""The keys of each page of its own, and the pages that there are: those that have keys."""

from __future__ import annotations

from types import MappingProxyType

from tui.pages.baths.keys import BATH_KEYS
from tui.pages.bench.keys import BENCH_KEYS
from tui.pages.daylight.keys import DAYLIGHT_KEYS
from tui.pages.lamp.keys import LAMP_KEYS
from tui.pages.logbook.keys import LOGBOOK_KEYS
from tui.pages.plates.keys import PLATE_KEYS
from tui.pages.shared.key_use import KeyUse
from tui.pages.shared.page_names import PAGE_NAMES, PageName
from tui.pages.trays.keys import TRAY_KEYS

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
