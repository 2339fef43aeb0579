"""The terminal driver of the screen: the same whitelist as the gate's, once more, inside."""

from __future__ import annotations

import os
from typing import Any

from textual.app import App
from textual.drivers.linux_driver import LinuxDriver

from tui.gate import LEVEL_VARIABLE
from tui.red.rewriter import RedOnly

# What an application says when it begins; said again after a stop, when the gate has wiped it all.
BEGINNING = "\x1b[?1049h\x1b[?25l\x1b[?7l\x1b[?2004h\x1b[?1004h"


def ceiling() -> int:
    """Return the brightest red allowed by the gate this screen runs behind, or all of it without one."""
    told = os.environ.get(LEVEL_VARIABLE, "")
    return min(255, max(1, int(told))) if told.isdecimal() else 255


class RedDriver(LinuxDriver):
    """Writes nothing but red, and does not stop on its own: a stopped screen shows a time that stands."""

    def __init__(
        self, app: App[Any], *, debug: bool = False, mouse: bool = True, size: tuple[int, int] | None = None
    ) -> None:
        # The gate must see the screen change, to know what a dead program leaves behind.
        self._red = RedOnly(ceiling(), other_screen=True)
        super().__init__(app, debug=debug, mouse=mouse, size=size)

    def write(self, data: str) -> None:
        """Write what may be written of ``data``."""
        if self._writer_thread is not None:
            super().write(self._red.feed_text(data))

    def ring(self) -> None:
        """Ring the terminal's bell: the one control sign that no text may bring."""
        if self._writer_thread is not None:
            super().write("\x07")

    def _sigtstp_application(self, *_: object) -> None:
        """Go on: there is no shell behind this screen that could bring it back."""

    def _sigcont_application(self, *_: object) -> None:
        # The signal may come while this very thread holds the writer's lock: writing here would hang it.
        self._loop.call_soon_threadsafe(self._come_back)

    def _come_back(self) -> None:
        if self._writer_thread is not None:
            self.write(BEGINNING)
            self._app.call_later(self._app.refresh, layout=True)
