"""The keys of the Bench page; a page is shown once it has some."""

from __future__ import annotations

from tui.keys.use import KeyUse

BENCH_KEYS: tuple[KeyUse, ...] = ()
