"""The Bench page: every device as it is, every fault with what to do next, every sound to be learned."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.containers import Horizontal
from textual.content import Content
from textual.widget import Widget

from firmware_py.facts.views.bench import NoticeView
from tui.moment import Moment
from tui.pages.bench.deeds import BenchDeeds
from tui.pages.bench.keys import KEYS
from tui.pages.bench.sound_words import SOUNDS, sound_lines
from tui.pages.bench.words import device_lines, fault_lines
from tui.pages.shared.binding import bindings
from tui.pages.shared.page import Page
from tui.widgets.line import Line

MOST_FAULT_LINES = 8


class BenchPage(BenchDeeds, Page, inherit_bindings=False):
    """What stands on the bench. Nothing dangerous can be switched from here."""

    NAME = "BENCH"
    BINDINGS: ClassVar[list[BindingType]] = bindings(KEYS)

    def middle(self) -> Iterable[Widget]:
        """Give the devices, the sounds and the faults."""
        with Horizontal(id="body"):
            yield Line(id="devices")
            yield Line(id="sounds")
        yield Line(id="faults")

    def draw(self, moment: Moment) -> None:
        """Draw what has changed."""
        super().draw(moment)
        self._draw_devices(moment)
        sounds = self.line("sounds")
        sounds.show(_sounds(self.pointed, sounds.size.width))
        faults = self.line("faults")
        lines = fault_lines(moment.view, self.size.width - 1)[:MOST_FAULT_LINES]
        if faults.fill(lines):
            # The devices have less room now, or more.
            self.call_after_refresh(self.redraw)
        faults.set_class(len(lines) > 1, "-wrong")

    def redraw(self) -> None:
        """Draw the page as it is now."""
        self.draw(self.desk.moment())

    def notices(self, moment: Moment) -> list[NoticeView]:
        """Return what is no fault: those stand above, each with what to do."""
        return [notice for notice in super().notices(moment) if not notice.trouble]

    def _draw_devices(self, moment: Moment) -> None:
        devices = self.line("devices")
        lines, rows = device_lines(moment, devices.size.width - 1), devices.size.height
        # One step further is as much as fits below the line that says there is more.
        step = max(1, rows - 1)
        if self.first_line * step >= len(lines) or len(lines) <= rows:
            self.first_line = 0
        shown = lines[self.first_line * step :]
        if len(shown) > rows:
            shown = [*shown[: rows - 1], " D: further down"]
        devices.show(Content("\n").join(_heading(line) for line in shown))


def _heading(line: str) -> Content:
    return Content(line) if line.startswith(" ") else Content.styled(line, "bold")


def _sounds(pointed: int, width: int) -> Content:
    lines = [Content.styled("SOUNDS, the least urgent first", "bold")]
    for number, words in enumerate(sound_lines(SOUNDS[pointed], width)):
        lines.append(Content.styled(f"{words:<{width}}", "reverse") if number == pointed else Content(words))
    return Content("\n").join(lines)
