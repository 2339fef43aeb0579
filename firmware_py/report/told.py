"""The smallest piece of a report, a named fact; and times, moments and text as every report writes them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

_WIDE = 23


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact: what it is called and what it is, a long one on a line of its own; "" is room to write it."""

    name: str
    value: str

    @property
    def is_wide(self) -> bool:
        """Get whether it wants a line of its own."""
        return len(self.value) > _WIDE


def plain(text: str) -> str:
    """Return ``text`` with a question mark for whatever is not a printable sign."""
    return "".join(sign if sign.isprintable() else "?" for sign in text)


def facts_of(pairs: Sequence[tuple[str, str | None]]) -> tuple[Fact, ...]:
    """Return the facts that are known: those with any words."""
    return tuple(Fact(name, value) for name, value in pairs if value)


def clock(time_s: float) -> str:
    """Return a time [s] as minutes and seconds."""
    whole = round(time_s)
    return f"{whole // 60}:{whole % 60:02d}"


def lines_of(text: str) -> tuple[str, ...]:
    """Return what a person wrote line by line, none of them empty."""
    return tuple(line for line in text.splitlines() if line.strip())


def moment(utc: str) -> str:
    """Return a moment of the wall clock (ISO 8601) to the second, as it is written on a sheet."""
    return f"{utc[:19].replace('T', ' ')} UTC"
