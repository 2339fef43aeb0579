"""What the bench wants known just now: one line for each matter, newest last."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from firmware_py.bench.matters import MATTERS, Kind, Matter

# Whether the cause of a notice still holds.
Holds = Callable[[], bool]


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
        self._holds: dict[tuple[str, str], Holds] = {}

    def say(
        self, kind: Kind, words: str, now_s: float, *, about: object = "", holds: Holds | None = None
    ) -> None:
        """Show words until they are replaced, cleared, or their cause ``holds`` no more.

        Raises KeyError for an unknown kind.
        """
        place = _place(kind, about)
        self._holds.pop(place, None)
        if holds is not None:
            self._holds[place] = holds
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
        """Remove a matter, and those of its slot."""
        self._remove(_place(kind, about))

    def settle(self) -> bool:
        """Remove what stood for a cause that is over; return whether anything was removed."""
        over = [place for place, holds in self._holds.items() if not holds()]
        for place in over:
            self._remove(place)
        return bool(over)

    def has_cause(self, kind: Kind) -> bool:
        """Return whether a matter goes with a cause of its own."""
        return _place(kind, "") in self._holds

    def _remove(self, place: tuple[str, str]) -> None:
        self._standing.pop(place, None)
        self._holds.pop(place, None)

    def all(self) -> list[Notice]:
        """Return the notices, troubles first, then oldest first."""
        return sorted(self._standing.values(), key=lambda n: not n.matter.trouble)


def _place(kind: Kind, about: object) -> tuple[str, str]:
    return MATTERS[kind].slot or kind, str(about)
