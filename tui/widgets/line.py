"""A line of text that is drawn again only when it reads differently."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static


class Line(Static):
    """Text that never changes the layout; its size is set by the style sheet."""

    def __init__(self, text: str = "", *, id: str | None = None, classes: str | None = None) -> None:  # noqa: A002 - Textual's word
        super().__init__(Content(text), id=id, classes=classes, markup=False)
        self._shown: str | Content = text

    def show(self, text: str | Content) -> None:
        """Show text, with no draw at all if it is what stands there."""
        if text == self._shown:
            return
        self._shown = text
        self.update(Content(text) if isinstance(text, str) else text, layout=False)
