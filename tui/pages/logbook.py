"""The Logbook page."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import BindingType

from tui.keys.binding import bindings
from tui.keys.logbook import LOGBOOK_KEYS
from tui.pages.page import Page


class LogbookPage(Page, inherit_bindings=False):
    """Not built yet: no key leads here."""

    NAME = "LOGBOOK"
    BINDINGS: ClassVar[list[BindingType]] = bindings(LOGBOOK_KEYS)
