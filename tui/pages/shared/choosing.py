"""A choice by number among any number of things: what does not fit nine keys comes after "more"."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from itertools import islice

from tui.widgets.asking import MOST_CHOICES, Question

MORE = "more"


def choice(words: str, deeds: Mapping[str, Callable[[], None]], ask: Callable[[Question], None]) -> Question:
    """Return the question which of ``deeds``, named by their words, is to be done."""
    if len(deeds) <= MOST_CHOICES:
        return Question(words, lambda chosen: deeds[chosen](), choices=tuple(deeds))
    first = dict(islice(deeds.items(), MOST_CHOICES - 1))
    rest = {name: deed for name, deed in deeds.items() if name not in first}
    return choice(words, {**first, MORE: lambda: ask(choice(words, rest, ask))}, ask)
