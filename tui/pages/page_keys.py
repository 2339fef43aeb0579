"""The keys of each page: every folder of `tui.pages` that is named in `PageName` has a table of its own."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from types import MappingProxyType
from typing import cast

from tui.pages.shared.key_use import KeyUse
from tui.pages.shared.page_names import PAGE_NAMES, PageName


def _keys_of(page: PageName) -> tuple[KeyUse, ...]:
    return cast("tuple[KeyUse, ...]", import_module(f"tui.pages.{page}.keys").KEYS)


PAGE_KEYS: Mapping[PageName, tuple[KeyUse, ...]] = MappingProxyType(
    {page: _keys_of(page) for page in PAGE_NAMES}
)
PAGES: tuple[PageName, ...] = PAGE_NAMES


def page_after(page: PageName, by: int = 1) -> PageName:
    """Return the page ``by`` places after another; after the last comes the first."""
    return PAGES[(PAGES.index(page) + by) % len(PAGES)]
