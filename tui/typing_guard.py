"""Knows when keys belong to a text that somebody types where no line takes it: such keys do nothing."""

from __future__ import annotations

# Ordinary typing has no pause as long as this: a sign within it belongs with the one before.
TYPING_S = 1.0
# The same sign so many times in a row is no text but a person who insists.
INSISTS = 3


class TypingGuard:
    """Drops what is typed, from a moment that `begin` names [s of one clock] until a pause, Enter or Escape.

    It begins where a key asked for a line to type and none opened, where a sign came that answers nothing,
    where a letter answered a question, and where a line was closed while somebody typed in it.
    """

    def __init__(self) -> None:
        self._until_s = float("-inf")
        self._signs = ""

    def begin(self, now_s: float) -> None:
        """Drop signs from now on, until nothing is typed for `TYPING_S`."""
        self._until_s, self._signs = now_s + TYPING_S, ""

    def drops(self, key: str, sign: str | None, now_s: float) -> bool:
        """Return whether a key is to do nothing; ``sign`` is what it would type, if anything."""
        if now_s >= self._until_s or key == "escape":
            self._until_s = float("-inf")
            return False
        if key == "enter":
            # It ends what was typed; before a first sign it is a key like any other.
            self._until_s = float("-inf")
            return bool(self._signs)
        if sign is None:
            return False
        self._signs += sign
        if self._signs.endswith(sign * INSISTS):
            self._until_s = float("-inf")
            return False
        self._until_s = now_s + TYPING_S
        return True
