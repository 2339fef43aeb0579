"""The screen's door to the bench."""

from __future__ import annotations

import re
from collections.abc import AsyncIterator
from typing import Protocol

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.service.book_questions import AnyAnswer, AnyQuestion
from firmware_py.service.client import LinkLost
from firmware_py.service.shapes import AnyAct, BenchView

_LIMIT = re.compile(r"Expected `\w+`(?P<length> of length)? (?P<sign>[<>]=?) (?P<limit>[\d.e+-]+)$")
_SIGNS = {">=": "at least", "<=": "at most", ">": "above", "<": "below"}


def checked(act: AnyAct) -> AnyAct:
    """Return an act if every value in it is allowed. Raises Refused with the field and what it allows."""
    try:
        msgspec.convert(msgspec.to_builtins(act), type(act))
    except msgspec.ValidationError as error:
        raise _in_words(str(error)) from None
    return act


def _in_words(message: str) -> Refused:
    """Return what a library says of a value that is not allowed, in the words of the bench."""
    rule, _, place = message.partition(" - at ")
    where = place.strip("`$.").replace("_", " ")
    if found := _LIMIT.match(rule):
        allowed = f"{_SIGNS[found['sign']]} {float(found['limit']):g}{' signs' if found['length'] else ''}"
        return Refused("out of bounds", where=where, allowed=allowed)
    if "matching regex" in rule:  # names are the only texts that a person writes by a pattern
        return Refused("has a sign that a name may not", where=where, allowed="letters and numbers, no /")
    return Refused("not understood", where=where)


class BenchLink(Protocol):
    """A line to the controller that finds its own way back when it breaks."""

    def watch(self) -> AsyncIterator[BenchView | LinkLost]:
        """Give the bench's view whenever it changes, and `LinkLost` while there is none; for ever."""
        ...

    async def do(self, act: AnyAct) -> None:
        """Ask for an act; return when it is done. Raises Refused with the controller's words."""
        ...

    async def ask(self, question: AnyQuestion) -> AnyAnswer:
        """Ask the book; return what it says. Raises Refused with the controller's words."""
        ...
