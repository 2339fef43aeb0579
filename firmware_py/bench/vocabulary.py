"""The words a person need not type: marks of what is seen on a plate, by key, and phrases for notes."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from importlib import resources
from pathlib import Path
from typing import Annotated, Literal

import msgspec

from firmware_py.strict_toml import read_toml

# What a mark does besides being written down: start the factor's clock, or the fixer's.
Role = Literal["appearance", "clearing"]
Key = Annotated[str, msgspec.Meta(pattern="^[0-9a-z]$")]
MarkName = Annotated[str, msgspec.Meta(min_length=1, max_length=80)]
KEYS = "123456789abcdefghijklmnopqrstuvwxyz0"


class MarkWord(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``[[mark]]``: what a person may see on a plate, the key that says it, and its role if it has one.

    The ``foot`` makes the marks of a developing plate in their order; a fault seen is no step on the way.
    """

    name: MarkName
    key: Key
    role: Role | None = None
    foot: bool = True


class Phrase(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``[[phrase]]``: a note that is chosen by its number, in the order of the file.

    ``key`` does nothing: a letter must not choose a phrase while somebody types. Older files may have it.
    """

    words: Annotated[str, msgspec.Meta(min_length=1, max_length=200)]
    key: Key | None = None


class VocabularyText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A file of marks and phrases."""

    mark: Annotated[list[MarkWord], msgspec.Meta(min_length=2, max_length=20)]
    phrase: Annotated[list[Phrase], msgspec.Meta(max_length=36)] = []

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        _all_different("mark", "name", [m.name for m in self.mark])
        _all_different("mark", "key", [m.key for m in self.mark])
        _all_different("phrase", "words", [p.words for p in self.phrase])
        for role in ("appearance", "clearing"):
            named = [m.name for m in self.mark if m.role == role]
            if len(named) != 1:
                raise ValueError(f"{len(named)} marks have the role `{role}`; allowed: exactly one")


@dataclass(frozen=True, slots=True)
class Vocabulary:
    """The marks and the phrases of a bench."""

    marks: tuple[MarkWord, ...]
    phrases: tuple[Phrase, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """Get what the marks are called."""
        return tuple(mark.name for mark in self.marks)

    def by_foot(self, names: Sequence[str]) -> tuple[str, ...]:
        """Return those of the marks that the foot makes; one that is not listed is."""
        left_out = {mark.name for mark in self.marks if not mark.foot}
        return tuple(name for name in names if name not in left_out)

    def name_of(self, role: Role) -> str:
        """Return what the mark with a role is called."""
        return next(mark.name for mark in self.marks if mark.role == role)

    def keys_for(self, names: Sequence[str]) -> tuple[str, ...]:
        """Return one key for each mark: its own, or the first that is free for one that is not listed."""
        own = {mark.name: mark.key for mark in self.marks}
        free = iter([key for key in KEYS if key not in {own.get(name) for name in names}])
        return tuple(own[name] if name in own else next(free, "") for name in names)


def read_vocabulary(path: Path) -> Vocabulary:
    """Return the marks and phrases in a file; Raises Refused with file, line, key, finding and rule."""
    text = read_toml(path, VocabularyText)
    return Vocabulary(tuple(text.mark), tuple(text.phrase))


@cache
def shipped_vocabulary() -> Vocabulary:
    """Return the marks and phrases that come with Embertray."""
    with resources.as_file(resources.files("firmware_py.data") / "marks.toml") as path:
        return read_vocabulary(path)


def _all_different(table: str, key: str, found: Iterable[str]) -> None:
    seen: set[str] = set()
    for one in found:
        if one in seen:
            raise ValueError(f"two of `{table}` have the {key} {one!r}; each needs its own")
        seen.add(one)
