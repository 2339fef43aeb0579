"""Leads every key to the one place that it is meant for: a line to type in, a question, or the page."""

from __future__ import annotations

from collections.abc import Awaitable, Callable

from textual.events import Key
from textual.message import Message

from tui.pages.shared.page import Page
from tui.typing_guard import TypingGuard

# Whoever ends an exposure does not wait for anything: these act while paper gets light, whatever was typed.
ALWAYS_IN_LIGHT = frozenset({"space", "x", "f"})


class Fetched(Message):
    """What a key asked the book for has come, and with it the question that the key opens."""

    def __init__(self, waits: object) -> None:
        super().__init__()
        self.waits = waits


class KeyPath:
    """Takes one key after the other, each wholly before the next: none overtakes the one before.

    While a line to type in is open every sign goes into it. While a question that a key asked for is still
    being fetched, keys are kept for it. Elsewhere capitals act like small letters.
    """

    def __init__(
        self,
        page: Callable[[], Awaitable[Page]],
        act: Callable[[str], Awaitable[bool]],
        read_s: Callable[[], float],
        is_exposing: Callable[[], bool],
        is_black: Callable[[], bool],
    ) -> None:
        self._page, self._act, self._read_s = page, act, read_s
        self._is_exposing, self._is_black = is_exposing, is_black
        self._guard = TypingGuard()
        self._fetching: object | None = None
        self._kept: list[Key] = []

    def fetch(self) -> object:
        """Keep keys from now on for the question that is being fetched; return what stands for it."""
        self._fetching = object()
        self._kept.clear()
        return self._fetching

    def fetches(self, one: object) -> bool:
        """Return whether a question is still wanted: Escape lets it be."""
        return self._fetching is one

    async def fetched(self, one: object) -> None:
        """Give the keys that were kept to the question that was fetched; where none came, drop them."""
        if self._fetching is not one:
            return
        self._fetching = None
        kept, self._kept = self._kept, []
        if not (await self._page()).is_asking:
            self._guard.begin(self._read_s())
            return
        for key in kept:
            await self._lead(key)

    def put_away(self) -> None:
        """Take in that a question was closed, and not by the person, who may be typing still."""
        self._guard.begin(self._read_s())

    async def press(self, key: Key) -> None:
        """Lead a key to its place."""
        if self._fetching is None:
            await self._lead(key)
        elif key.key == "escape":
            self._fetching = None
            self._kept.clear()
        else:
            self._kept.append(key)

    async def _lead(self, key: Key) -> None:
        page = await self._page()
        if page.asking.takes_text:
            await page.asking.type(key)
            return
        folded, sign, now_s = _folded(key.key), key.character, self._read_s()
        at_once = folded in ALWAYS_IN_LIGHT and self._is_exposing()
        if not at_once and self._guard.drops(key.key, sign if key.is_printable else None, now_s):
            return
        if page.is_asking:
            self._answer(page, folded, now_s, is_sign=key.is_printable)
        elif not page.take_key(folded, _folded(sign or "")):
            await self._press_on_page(page, folded)

    def _answer(self, page: Page, folded: str, now_s: float, *, is_sign: bool) -> None:
        """Give a key to a question; a sign that is no answer, or a letter that is, may begin a text."""
        answered = page.asking.take(folded)
        is_letter = len(folded) == 1 and folded.isalpha()
        # Who has just made the screen black must find the way back at once.
        if (is_letter and not self._is_black()) if answered else is_sign:
            self._guard.begin(now_s)

    async def _press_on_page(self, page: Page, folded: str) -> None:
        await self._act(folded)
        if folded not in page.typing_keys or self._is_black():
            return
        if self._fetching is None and not (await self._page()).is_asking:
            self._guard.begin(self._read_s())


def _folded(key: str) -> str:
    """Return a key as small letters have it: with the capitals locked it is the same key."""
    return key.lower() if len(key) == 1 else key
