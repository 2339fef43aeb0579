"""What a key is: its names, the act behind it, and its words at the foot of a page and on the Help page."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from tui.moment import Moment

NUMBER_KEYS = "123456789"


@dataclass(frozen=True, slots=True)
class KeyUse:
    """A key (its names for Textual), what it is called on screen, the act behind it, and the words for both.

    ``brief`` gives the few words for the foot of the page, or nothing where the key does not hold;
    ``where`` and ``help`` are what the Help page says. A ``numbered`` act is told which key it was. One that
    ``types`` asks for a line to type: where it is refused, what is typed all the same does nothing.
    """

    keys: tuple[str, ...]
    label: str
    act: str
    brief: Callable[[Moment], str]
    where: str
    help: str
    numbered: bool = False
    types: bool = False


def always(words: str) -> Callable[[Moment], str]:
    """Return words that hold at every moment."""
    return lambda _: words
