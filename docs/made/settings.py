"""The settings' reference, from the settings' types: key, what may stand there, default, meaning."""

from __future__ import annotations

import ast
import inspect
import re
import textwrap
from collections.abc import Iterator
from typing import Any, get_args, get_origin

import msgspec

from docs.made.shapes import allowed_words, default_words
from docs.made.tables import table, tidy
from firmware_py.settings import Settings
from firmware_py.settings.section import Section

HEADS = ("key", "may be", "without it", "means")
_KEY = re.compile(r"^    (?P<key>\w+): (?P<words>.*)$")


def sections() -> Iterator[tuple[str, type[Section]]]:
    """Yield the tables of bench.toml: the heading as it is written, and its type."""
    for field in msgspec.structs.fields(Settings):
        kind = field.type
        if get_origin(kind) is dict:
            yield f"[{field.encode_name}.NAME]", get_args(kind)[1]
        else:
            yield f"[{field.encode_name}]", kind


def settings_part() -> str:
    """Return a heading and a table for each section."""
    return "\n\n".join(_section(heading, kind) for heading, kind in sections())


def _section(heading: str, kind: type[Section]) -> str:
    intro, meanings = meanings_of(kind)
    bounds = bounds_of(kind)
    rows = [
        (
            f"`{field.encode_name}`",
            bounds.get(field.name) or allowed_words(field.type),
            default_words(field),
            meanings.get(field.name, ""),
        )
        for field in msgspec.structs.fields(kind)
    ]
    return f"### `{heading}`\n\n{intro}\n\n{table(HEADS, rows)}"


def meanings_of(kind: type) -> tuple[str, dict[str, str]]:
    """Return what a section's docstring says of it, and of each key under ``Keys:``."""
    intro, _, keys = tidy(inspect.getdoc(kind) or "").partition("\n\nKeys:\n")
    meanings: dict[str, str] = {}
    last = ""
    for line in keys.splitlines():
        if found := _KEY.match(line):
            last = found["key"]
            meanings[last] = found["words"]
        elif last and line.strip():
            meanings[last] += " " + line.strip()
    about = intro.partition(": ")[2]
    return about[:1].upper() + about[1:], meanings


def bounds_of(kind: type) -> dict[str, str]:
    """Return what ``check_within`` allows each key of a section, read from its checks."""
    check = kind.__dict__.get("__post_init__")
    if check is None:
        return {}
    tree = ast.parse(textwrap.dedent(inspect.getsource(check)))
    calls = [n for n in ast.walk(tree) if isinstance(n, ast.Call) and _is_check(n)]
    names = vars(inspect.getmodule(kind))
    keys = [call.args[0] for call in calls]
    return {
        str(key.value): _bounds(call, names)
        for key, call in zip(keys, calls, strict=True)
        if isinstance(key, ast.Constant)
    }


def _is_check(call: ast.Call) -> bool:
    return isinstance(call.func, ast.Name) and call.func.id == "check_within"


def _bounds(call: ast.Call, names: dict[str, Any]) -> str:
    low, high, unit = (eval(compile(ast.Expression(a), "bounds", "eval"), names) for a in call.args[2:])  # noqa: S307 - our own source
    return f"{low:g} {unit} to {high:g} {unit}"
