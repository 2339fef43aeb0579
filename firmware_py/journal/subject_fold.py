"""What folds have in common: entries come in order, each by its number."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import Protocol, TypeVar

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import run as ev
from firmware_py.facts.events.event import Event


class Folding(Protocol):
    """Whatever takes in one entry after another."""

    def apply(self, entry: ev.Entry) -> None:
        """Take in the next entry, or raise Refused."""
        ...


One = TypeVar("One", bound=Folding)
First = TypeVar("First", bound=Event)


def replayed(begin: Callable[[ev.Entry], One], entries: Iterable[ev.Entry], what: str) -> One:
    """Return the subject that these entries, in order, amount to; ``what`` names its kind.

    Numbers of which each is allowed, but with which nothing can be calculated, are refused like any other
    entry that cannot be: one such subject must not take the others' view away.
    """
    try:
        return _folded(begin, entries, what)
    except ArithmeticError as error:
        raise Refused(f"a {what} that cannot be calculated: {error}") from error


def _folded(begin: Callable[[ev.Entry], One], entries: Iterable[ev.Entry], what: str) -> One:
    rest = iter(entries)
    first = next(rest, None)
    if first is None:
        raise Refused(f"a {what} without entries")
    record = begin(first)
    for entry in rest:
        record.apply(entry)
    return record


def first_of(entry: ev.Entry, first: type[First], what: str) -> First:
    """Return the event that a subject begins with, or refuse any other."""
    if not isinstance(entry.event, first) or entry.number != 1:
        name = type(entry.event).__name__
        raise Refused(f"a {what} begins with {first.__name__}, not {name}", where=entry.subject)
    return entry.event


def require_next(entry: ev.Entry, subject: str, last: int, where: str) -> None:
    """Refuse an entry that is not the next of a subject whose last one was number ``last``."""
    if entry.subject != subject or entry.number != last + 1:
        raise Refused(f"expected entry {last + 1} of {subject}, got {entry.subject}", where=where)
