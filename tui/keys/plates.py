"""The keys of the Plates page; a page is shown once it has some."""

from __future__ import annotations

from tui.keys.use import KeyUse

PLATE_KEYS: tuple[KeyUse, ...] = ()
