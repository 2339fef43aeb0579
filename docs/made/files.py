"""The keys of the files that a person may write: routines, formulas, scripts, marks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import get_args

import msgspec

from docs.made.shapes import allowed_words, default_words
from docs.made.tables import said, table
from firmware_py.bench.routine_text import RoutineText
from firmware_py.bench.vocabulary import VocabularyText
from firmware_py.data.formula_text import FormulaText
from firmware_py.rehearsal.script import Script

# What the whole of each kind of file is; the tables in it are found from there.
FILES: Mapping[str, type[msgspec.Struct]] = MappingProxyType(
    {"routine": RoutineText, "formula": FormulaText, "marks": VocabularyText, "script": Script}
)


def shapes(kind: str) -> Iterator[type[msgspec.Struct]]:
    """Yield every table that a kind of file may hold, the whole first."""
    waiting, met = [FILES[kind]], set()
    while waiting:
        shape = waiting.pop(0)
        if shape not in met:
            met.add(shape)
            yield shape
            waiting += [inner for field in msgspec.structs.fields(shape) for inner in _inside(field.type)]


def file_part(kind: str) -> str:
    """Return what each table of a kind of file may say."""
    return "\n\n".join(_shape(shape) for shape in shapes(kind))


def _inside(kind: object) -> Iterator[type[msgspec.Struct]]:
    if isinstance(kind, type) and issubclass(kind, msgspec.Struct):
        yield kind
    for part in get_args(kind):
        yield from _inside(part)


def _shape(shape: type[msgspec.Struct]) -> str:
    rows = [
        (f"`{field.encode_name}`", allowed_words(field.type), default_words(field))
        for field in msgspec.structs.fields(shape)
    ]
    return f"{said(shape)}\n\n{table(('key', 'may be', 'without it'), rows)}"
