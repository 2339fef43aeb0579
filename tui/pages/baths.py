"""The Baths page."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from tui.keys.baths import BATH_KEYS
from tui.keys.binding import bindings
from tui.pages.page import Page


class BathsPage(Page, inherit_bindings=False):
    """Not built yet: no key leads here."""

    NAME = "BATHS"
    BINDINGS: ClassVar[list[BindingType]] = bindings(BATH_KEYS)
