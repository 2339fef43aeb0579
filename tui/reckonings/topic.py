"""What a topic of ``embertray reckon`` is made of."""

from __future__ import annotations

import argparse
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

Json = None | bool | int | float | str | Sequence["Json"] | Mapping[str, "Json"]


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
