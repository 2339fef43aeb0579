"""The one table of keys: what each does, where, in which words. Bindings, pages and Help are made from it."""

from __future__ import annotations

from tui.pages.page_keys import PAGE_KEYS, PAGES
from tui.pages.shared.everywhere_keys import EVERYWHERE
from tui.pages.shared.key_use import KeyUse
from tui.pages.shared.page_names import PageName

__all__ = ["EVERYWHERE", "PAGES", "PAGE_KEYS", "KeyUse", "keys_on"]


def keys_on(page: PageName) -> tuple[KeyUse, ...]:
    """Return the keys that hold on a page, its own first."""
    return PAGE_KEYS[page] + EVERYWHERE
