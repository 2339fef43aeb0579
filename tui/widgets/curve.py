"""Shows a development, or two over one another; drawn when it changes, never on the tick."""

from __future__ import annotations

from rich.segment import Segment
from textual.geometry import Size
from textual.strip import Strip
from textual.widget import Widget

from firmware_py.service.book_questions import CurveView
from tui.widgets.curve_drawing import drawn


class Curve(Widget):
    """A picture of half blocks in the page's own red."""

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's word
        super().__init__(id=id)
        self._curves: tuple[CurveView, ...] = ()
        self._rows: list[str] = []
        self._drawn_for: tuple[tuple[CurveView, ...], Size] | None = None

    def show(self, *curves: CurveView) -> None:
        """Show these curves, the first one solid."""
        if curves != self._curves:
            self._curves = curves
            self.refresh()

    def render_line(self, y: int) -> Strip:
        """Return one row of the picture."""
        wanted = (self._curves, self.size)
        if wanted != self._drawn_for:
            self._rows = drawn(self._curves, self.size.width, self.size.height)
            self._drawn_for = wanted
        row = self._rows[y] if y < len(self._rows) else ""
        width = self.size.width
        return Strip([Segment(f"{row[:width]:<{width}}", self.rich_style)], width)
