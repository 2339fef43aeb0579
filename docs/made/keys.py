"""The keys of every page, from the key tables that the screen itself goes by."""

from __future__ import annotations

from collections.abc import Iterable

from docs.made.tables import table, tidy
from tui.pages.key_table import EVERYWHERE, PAGE_KEYS, PAGES, KeyUse

HEADS = ("key", "where", "does")


def keys_part() -> str:
    """Return a table for every page, and one for the keys that hold everywhere."""
    parts = [f"### On every page\n\n{_table(EVERYWHERE)}"]
    parts += [f"### {page.capitalize()}\n\n{_table(PAGE_KEYS[page])}" for page in PAGES]
    return "\n\n".join(parts)


def _table(uses: Iterable[KeyUse]) -> str:
    return table(HEADS, [(f"**{tidy(use.label)}**", use.where, tidy(use.help)) for use in uses])
