"""The keys of the Baths page; a page is shown once it has some."""

from __future__ import annotations

from tui.keys.use import KeyUse

BATH_KEYS: tuple[KeyUse, ...] = ()
