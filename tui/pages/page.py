"""What every page has in the same place: the head, the banner, and its keys in words at the foot."""

from __future__ import annotations

from collections.abc import Iterable

from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widget import Widget

from tui.keys import KEYS
from tui.moment import Moment
from tui.theme import BRIGHTNESSES
from tui.widgets.line import Line
from tui.words.bench import banner_words, relay_words


class Page(Screen[None], inherit_bindings=False):
    """A full screen. A page of its own gives its middle, and draws it."""

    NAME = ""

    def __init__(self) -> None:
        super().__init__()
        self.HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]

    class Laid(Message):
        """The page has got its places and sizes, and can be drawn."""

    def on_resize(self) -> None:
        """Ask to be drawn once everything has its place."""
        self.call_after_refresh(self.post_message, self.Laid())

    def compose(self) -> ComposeResult:
        """Lay out head, banner, middle and foot."""
        yield Line(id="head")
        yield Line(id="banner")
        yield from self.middle()
        yield Line(id="keys")

    def middle(self) -> Iterable[Widget]:
        """Give the widgets between banner and foot."""
        return ()

    def draw(self, moment: Moment) -> None:
        """Draw what has changed since the last moment."""
        self._draw_head(moment)
        said = banner_words(moment.view, moment.lost, moment.lost_for_s)
        banner = self.query_one("#banner", Line)
        banner.set_class(bool(said), "-warning")
        banner.show(f" {said}" if said else "")
        self.query_one("#keys", Line).show(self.key_words(moment))

    def key_words(self, moment: Moment) -> Content:
        """Return the keys that hold now, in words, as many as two lines take."""
        tokens = [(use.label, use.brief(moment.lane)) for use in KEYS]
        return filled([token for token in tokens if token[1]], self.size.width, 2)

    def _draw_head(self, moment: Moment) -> None:
        left = f" {self.NAME}   {relay_words(moment.view) if moment.view else ''}"
        right = f"light {moment.brightness} of {BRIGHTNESSES} "
        room = max(0, self.size.width - len(right))
        self.query_one("#head", Line).show(f"{left[:room]:<{room}}{right}")


def filled(tokens: list[tuple[str, str]], width: int, rows: int) -> Content:
    """Return keys and their words, key first and in reverse, laid into rows as they fit."""
    content, column, row = Content(""), 0, 1
    for key, words in tokens:
        needed = len(key) + len(words) + 3
        if column and column + 2 + needed > width:
            row += 1
            if row > rows:
                break
            content, column = content + "\n", 0
        piece = Content.assemble((f" {key} ", "reverse"), f" {words}")
        content += (Content("  ") if column else Content("")) + piece
        column += needed + (2 if column else 0)
    return content
