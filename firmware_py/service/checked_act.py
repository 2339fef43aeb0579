"""Holds what a person wants done against the bounds of the act, before it goes anywhere."""

from __future__ import annotations

import re

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.run import AnyAct

_LIMIT = re.compile(r"Expected `\w+`(?P<length> of length)? (?P<sign>[<>]=?) (?P<limit>[\d.e+-]+)$")
_SIGNS = {">=": "at least", "<=": "at most", ">": "above", "<": "below"}


def checked(act: AnyAct) -> AnyAct:
    """Return an act if every value in it is allowed. Raises Refused with the field and what it allows."""
    try:
        msgspec.convert(msgspec.to_builtins(act), type(act))
    except msgspec.ValidationError as error:
        raise in_words(str(error)) from None
    return act


def in_words(message: str) -> Refused:
    """Return what a library says of a value that is not allowed, in the words of the bench."""
    rule, _, place = message.partition(" - at ")
    where = place.strip("`$.").replace("_", " ")
    if found := _LIMIT.match(rule):
        allowed = f"{_SIGNS[found['sign']]} {float(found['limit']):g}{' signs' if found['length'] else ''}"
        return Refused("out of bounds", where=where, allowed=allowed)
    if "matching regex" in rule:  # names are the only texts that a person writes by a pattern
        return Refused("has a sign that a name may not", where=where, allowed="letters and numbers, no /")
    return Refused("not understood", where=where)
