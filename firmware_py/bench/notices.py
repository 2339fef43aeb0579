"""What the bench wants known just now: one line for each matter, newest last."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Notice:
    """Words about a matter, since ``since_s`` [boot s]."""

    words: str
    since_s: float
    trouble: bool


class Notices:
    """The notices that stand; saying the same again changes nothing."""

    def __init__(self) -> None:
        self._standing: dict[str, Notice] = {}

    def say(self, matter: str, words: str, now_s: float, *, trouble: bool = False) -> None:
        """Let words stand for a matter until they are replaced or cleared."""
        before = self._standing.get(matter)
        if before is not None and before.words == words:
            return
        self._standing.pop(matter, None)
        self._standing[matter] = Notice(words, now_s, trouble)

    def stands(self, matter: str, words: str) -> bool:
        """Return whether these very words stand for a matter."""
        before = self._standing.get(matter)
        return before is not None and before.words == words

    def clear(self, matter: str) -> None:
        """Let a matter rest."""
        self._standing.pop(matter, None)

    def all(self) -> list[Notice]:
        """Return the notices, troubles first, then oldest first."""
        return sorted(self._standing.values(), key=lambda n: not n.trouble)
