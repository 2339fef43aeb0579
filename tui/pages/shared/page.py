"""What every page has in the same place: the head, the banner, and its keys in words at the foot."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar, cast

from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.screen import Screen
from textual.widget import Widget

from firmware_py.facts.views.bench import NoticeView
from tui.darkness import DEEDS_IN_THE_DARK
from tui.desk import Desk
from tui.moment import Moment
from tui.pages.key_table import KeyUse, keys_on
from tui.pages.shared.bench_words import (
    banner_row,
    banner_words,
    lost_words,
    notice_words,
    notices_in_order,
    relay_words,
)
from tui.pages.shared.foot_words import foot_place
from tui.pages.shared.rows import wrapped
from tui.pages.shared.time_words import printable
from tui.theme import BRIGHTNESSES
from tui.widgets.asking import Asking
from tui.widgets.line import Line

# Columns and rows below which no page says all that it must: then one line says so instead.
SMALLEST = (40, 10)


class Page(Screen[None], inherit_bindings=False):
    """A full screen. A page of its own gives its middle, and draws it."""

    NAME: ClassVar[str] = ""

    def __init__(self) -> None:
        super().__init__()
        self.HORIZONTAL_BREAKPOINTS = [(0, "-narrow"), (110, "-wide")]

    class Laid(Message):
        """The page has got its places and sizes, and can be drawn."""

    @property
    def desk(self) -> Desk:
        """Get the screen application that this page stands on."""
        return cast("Desk", self.app)

    def on_resize(self) -> None:
        """Ask to be drawn once everything has its place."""
        self.call_after_refresh(self.post_message, self.Laid())

    def on_screen_resume(self) -> None:
        """Ask to be drawn when turned to again."""
        self.call_after_refresh(self.post_message, self.Laid())

    def compose(self) -> ComposeResult:
        """Lay out head, banner and middle; at the foot what the bench says, what is asked, and the keys."""
        yield Line(id="head")
        yield Line(id="banner")
        yield from self.middle()
        yield Line(id="notices")
        yield Asking(id="asking")
        yield Line(id="keys")
        yield Line(id="too_small")

    def middle(self) -> Iterable[Widget]:
        """Give the widgets between banner and notices."""
        return ()

    def draw(self, moment: Moment) -> None:
        """Draw what has changed since the last moment."""
        self._draw_head(moment)
        banner = self.query_one("#banner", Line)
        banner.set_class(bool(banner_words(moment)), "-warning")
        banner.show(f" {banner_row(moment, self.size.width - 2)}")
        self.line("notices").show(self._matters(moment))
        self.query_one("#keys", Line).show(self.key_words(moment))

    @property
    def is_too_small(self) -> bool:
        """Get whether the terminal is too small for a page."""
        return self.size.width < SMALLEST[0] or self.size.height < SMALLEST[1]

    def draw_in(self, moment: Moment) -> None:
        """Draw what there is room for: the page, or the one line that says that there is none.

        That line lies over the page, which keeps its place and what is typed on it.
        """
        line = self.query_one("#too_small", Line)
        line.set_class(self.is_too_small, "-shown")
        if self.is_too_small:
            line.show(f"Terminal too small: {SMALLEST[0]} x {SMALLEST[1]} needed"[: self.size.width])
        else:
            self.draw(moment)

    def advice(self, moment: Moment) -> tuple[str, ...]:  # noqa: ARG002 - a page that gives none
        """Return what this page has to warn of, before what the bench has."""
        return ()

    @property
    def is_laid(self) -> bool:
        """Get whether everything has its place, so that drawing is worth it."""
        return self.is_mounted and self.size.width > 0

    @property
    def asking(self) -> Asking:
        """Get the strip in which this page asks."""
        return self.query_one(Asking)

    @property
    def is_asking(self) -> bool:
        """Get whether a question is open."""
        return any(asking.question is not None for asking in self.query(Asking))

    @property
    def typing_keys(self) -> frozenset[str]:
        """Get the keys that ask for a line to type."""
        uses = keys_on(self.desk.moment().page)
        return frozenset(key for use in uses if use.types for key in use.keys)

    def take_key(self, key: str, sign: str) -> bool:  # noqa: ARG002 - a page without keys of the bench's own
        """Take a key that no table of keys has, and return whether it was one; ``sign`` is what it types."""
        return False

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:  # noqa: ARG002 - any
        """Allow no act while something is asked: a key may have been on its way before the question was."""
        return not self.is_asking and (not self.desk.is_black or action in DEEDS_IN_THE_DARK)

    def next_tick_s(self, moment: Moment) -> float:  # noqa: ARG002 - a page that counts nothing
        """Return in how many seconds of the bench this page changes by itself."""
        return 1.0

    def key_words(self, moment: Moment) -> Content:
        """Return the keys of the question that is open, or those that hold now, as two lines take them."""
        asking = self.query_one(Asking)
        if asking.question is not None:
            return filled(list(asking.question.keys), self.size.width, 2)
        tokens = [(use.label, use.brief(moment)) for use in keys_on(moment.page) if self.offers(use)]
        return filled([token for token in tokens if token[1]], self.size.width, 2)

    def offers(self, use: KeyUse) -> bool:  # noqa: ARG002 - a page on which all keys hold
        """Return whether a key holds with what lies open on this page."""
        return True

    def notices(self, moment: Moment) -> list[NoticeView]:
        """Return the bench's notices, those that matter most first."""
        return notices_in_order(moment.view) if moment.view else []

    def _matters(self, moment: Moment) -> str:
        """Return what the bench and the screen have to say, as many lines as there is room for."""
        said = [moment.said] if moment.said else []
        if moment.lost is not None:
            said.append(lost_words(moment.lost, seen=moment.view is not None))
        told = [notice_words(notice, moment.now_s) for notice in self.notices(moment)]
        width = max(20, self.size.width - 2)
        matters = [*said, *(f"! {printable(words)}" for words in self.advice(moment)), *told]
        return "\n".join(wrapped(matters, width)[: self.line("notices").size.height])

    def line(self, name: str) -> Line:
        """Return a line of this page."""
        return self.query_one(f"#{name}", Line)

    def _draw_head(self, moment: Moment) -> None:
        relays = relay_words(moment.view, lost=moment.lost is not None) if moment.view else ""
        left = f" {self.NAME}  {foot_place(moment, here=self.NAME.lower())}   {relays}"
        right = f" + - light {moment.brightness} of {BRIGHTNESSES} "
        self.query_one("#head", Line).show(head(left, right, self.size.width))


def head(left: str, right: str, width: int) -> str:
    """Return the top line: what is on the left is never cut for what is on the right."""
    for shorter in (left, left.replace("   ", "  ")):
        if len(shorter) + len(right) < width:
            return f"{shorter:<{width - len(right)}}{right}"
    return f"{left.replace('   ', '  ')[:width]:<{width}}"


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
