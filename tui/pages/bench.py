"""The Bench page."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from tui.keys.bench import BENCH_KEYS
from tui.keys.binding import bindings
from tui.pages.page import Page


class BenchPage(Page, inherit_bindings=False):
    """Not built yet: no key leads here."""

    NAME = "BENCH"
    BINDINGS: ClassVar[list[BindingType]] = bindings(BENCH_KEYS)
