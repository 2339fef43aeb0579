"""The keys of the Daylight page; a page is shown once it has some."""

from __future__ import annotations

from tui.keys.use import KeyUse

DAYLIGHT_KEYS: tuple[KeyUse, ...] = ()
