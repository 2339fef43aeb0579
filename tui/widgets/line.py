"""A line of text that is drawn again only when it reads differently."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content, Span
from textual.widgets import Static


class Line(Static):
    """Text whose size is set by the style sheet; it changes the layout only where it is filled."""

    def __init__(self, text: str = "", *, id: str | None = None, classes: str | None = None) -> None:  # noqa: A002 - Textual's word
        super().__init__(Content(text), id=id, classes=classes, markup=False)
        self._shown: str | Content = text

    def show(self, text: str | Content) -> None:
        """Show text, with no draw at all if it is what stands there."""
        if text == self._shown and _spans(text) == _spans(self._shown):
            return
        self._shown = text
        self.update(Content(text) if isinstance(text, str) else text, layout=False)

    def fill(self, lines: Sequence[str | Content]) -> bool:
        """Show lines in as many rows as there are, if the style sheet allows; return whether that is new."""
        self.show(Content("\n").join(Content(line) if isinstance(line, str) else line for line in lines))
        height = self.styles.height
        if height is not None and height.value == len(lines):
            return False
        self.styles.height = len(lines)
        return True


def _spans(text: str | Content) -> Sequence[Span]:
    """Return how a text is styled: `Content` compares by its words alone."""
    return text.spans if isinstance(text, Content) else []
