"""The person as commissioning knows one: plain questions, each of which can be skipped."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Protocol, TypeVar

from firmware_py.craft.refusal import Refused

SKIP = "skip"
NO_OTHERS: Mapping[str, str] = MappingProxyType({})


class Left(Exception):  # noqa: N818 - reads as what happened, not as a kind of error
    """The person is gone: nothing is written."""


T = TypeVar("T")


class Person(Protocol):
    """Whoever sits at the terminal."""

    def say(self, words: str) -> None:
        """Show words."""
        ...

    async def ask(self, question: str) -> str:
        """Return what the person types; raises `Left` when there is nobody any more."""
        ...


async def ask_word(
    person: Person, question: str, allowed: Sequence[str], *, also: Mapping[str, str] = NO_OTHERS
) -> str | None:
    """Return one of the ``allowed`` words, None for a skip; asks until it is one of them.

    ``also`` are other words that stand for an allowed one.
    """
    words = (*allowed, SKIP)
    while True:
        said = (await person.ask(f"{question} ({', '.join(words)})")).strip().casefold()
        said = also.get(said, said)
        found = [word for word in words if word.casefold() == said]
        if not found and said:
            found = [word for word in words if word.casefold().startswith(said)]
        if len(found) == 1:
            return None if found[0] == SKIP else found[0]
        person.say(f"Please type one of these: {', '.join(words)}.")


async def ask_yes(person: Person, question: str) -> bool | None:
    """Return yes or no, None for a skip."""
    word = await ask_word(person, question, ("yes", "no"))
    return None if word is None else word == "yes"


async def ask_read(person: Person, question: str, read: Callable[[str], T]) -> T | None:
    """Return what ``read`` makes of the answer, None for a skip; says what it refuses, and asks again."""
    while True:
        said = (await person.ask(f"{question} (or skip)")).strip()
        if said.casefold() == SKIP:
            return None
        try:
            return read(said)
        except Refused as refusal:
            person.say(refusal.line)


async def ready(person: Person, question: str) -> bool:
    """Return whether the person is ready; False for a skip."""
    return (await ask_word(person, question, ("ready",), also={"y": "ready", "yes": "ready"})) is not None
