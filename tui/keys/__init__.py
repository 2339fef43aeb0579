"""The one table of keys: what each does, where, in which words. Bindings, pages and Help are made from it."""

from __future__ import annotations

from types import MappingProxyType

from tui.keys.everywhere import EVERYWHERE
from tui.keys.lamp import LAMP_KEYS
from tui.keys.trays import TRAY_KEYS
from tui.keys.use import KeyUse
from tui.words.pages import PageName

PAGE_KEYS: MappingProxyType[PageName, tuple[KeyUse, ...]] = MappingProxyType(
    {"trays": TRAY_KEYS, "lamp": LAMP_KEYS}
)

__all__ = ["EVERYWHERE", "PAGE_KEYS", "KeyUse", "keys_on"]


def keys_on(page: PageName) -> tuple[KeyUse, ...]:
    """Return the keys that hold on a page, its own first."""
    return PAGE_KEYS[page] + EVERYWHERE
