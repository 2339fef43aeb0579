"""The keys of the Logbook page; a page is shown once it has some."""

from __future__ import annotations

from tui.keys.use import KeyUse

LOGBOOK_KEYS: tuple[KeyUse, ...] = ()
