"""The Plates page."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from tui.keys.binding import bindings
from tui.keys.plates import PLATE_KEYS
from tui.pages.page import Page


class PlatesPage(Page, inherit_bindings=False):
    """Not built yet: no key leads here."""

    NAME = "PLATES"
    BINDINGS: ClassVar[list[BindingType]] = bindings(PLATE_KEYS)
