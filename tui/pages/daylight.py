"""The Daylight page."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from tui.keys.binding import bindings
from tui.keys.daylight import DAYLIGHT_KEYS
from tui.pages.page import Page


class DaylightPage(Page, inherit_bindings=False):
    """Not built yet: no key leads here."""

    NAME = "DAYLIGHT"
    BINDINGS: ClassVar[list[BindingType]] = bindings(DAYLIGHT_KEYS)
