"""What a topic of ``embertray reckon`` is made of."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass

Json = None | bool | int | float | str | Sequence["Json"] | Mapping[str, "Json"]
# What one part of an answer adds to its values and to its lines.
Part = tuple[dict[str, Json], list[str]]


@dataclass(frozen=True, slots=True)
class Answer:
    """A result twice: ``values`` for ``--json`` (each key carries its unit) and ``lines`` for a person."""

    values: Mapping[str, Json]
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Topic:
    """A topic: how its arguments are declared, and how they become an answer.

    ``reckon`` raises `firmware_py.craft.refusal.Refused` for anything it can not take; the command line
    prints that as one line and leaves with 1.
    """

    declare: Callable[[argparse.ArgumentParser], None]
    reckon: Callable[[argparse.Namespace], Answer]


def joined(parts: Iterable[Part]) -> Answer:
    """Return the parts of an answer as one, in their order."""
    values: dict[str, Json] = {}
    lines: list[str] = []
    for more_values, more_lines in parts:
        values |= more_values
        lines += more_lines
    return Answer(values, tuple(lines))
