"""What the bench wants known just now: one line for each matter, newest last."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.bench.matters import MATTERS, Kind, Matter


@dataclass(frozen=True, slots=True)
class Notice:
    """Words about a matter of a known kind, since ``since_s`` [boot s]."""

    kind: Kind
    words: str
    since_s: float

    @property
    def matter(self) -> Matter:
        """Get why such a notice comes, and what to do."""
        return MATTERS[self.kind]


class Notices:
    """The notices that stand; saying the same again changes nothing.

    ``about`` tells apart what a kind can be said of at once: trays by number, probes by name.
    """

    def __init__(self) -> None:
        self._standing: dict[tuple[str, str], Notice] = {}

    def say(self, kind: Kind, words: str, now_s: float, *, about: object = "") -> None:
        """Let words stand until they are replaced or cleared. Raises KeyError for an unknown kind."""
        place = _place(kind, about)
        before = self._standing.get(place)
        if before is not None and (before.kind, before.words) == (kind, words):
            return
        self._standing.pop(place, None)
        self._standing[place] = Notice(kind, words, now_s)

    def stands(self, kind: Kind, words: str, *, about: object = "") -> bool:
        """Return whether these very words stand."""
        before = self._standing.get(_place(kind, about))
        return before is not None and before.words == words

    def clear(self, kind: Kind, *, about: object = "") -> None:
        """Let a matter rest, and those of its slot."""
        self._standing.pop(_place(kind, about), None)

    def all(self) -> list[Notice]:
        """Return the notices, troubles first, then oldest first."""
        return sorted(self._standing.values(), key=lambda n: not n.matter.trouble)


def _place(kind: Kind, about: object) -> tuple[str, str]:
    return MATTERS[kind].slot or kind, str(about)
