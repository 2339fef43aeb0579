"""The lines between controller and switchboard: one JSON object each, read strictly at both ends."""

from __future__ import annotations

import json
import sys
from collections.abc import Mapping
from dataclasses import asdict, fields
from types import NoneType, UnionType
from typing import Any, Literal, TypeVar, cast, get_args, get_origin, get_type_hints

from firmware_py.craft.refusal import Refused
from firmware_py.switchboard import commands, reports

LINE_LIMIT = 16 * 1024
_MOST = sys.float_info.max
_LONGEST_TEXT = 4096

_COMMANDS: Mapping[str, type] = {kind.__name__: kind for kind in get_args(commands.Command)}
_REPORTS: Mapping[str, type] = {kind.__name__: kind for kind in get_args(reports.Report)}
_HINTS = {
    kind: get_type_hints(kind) for kind in (*_COMMANDS.values(), *_REPORTS.values(), commands.RelayWiring)
}

Fact = TypeVar("Fact")


def write_line(fact: commands.Command | reports.Report) -> bytes:
    """Return ``fact`` as one line of ASCII, its kind under the key ``say``."""
    return json.dumps({"say": type(fact).__name__, **asdict(fact)}, allow_nan=False).encode("ascii") + b"\n"


def read_command(line: bytes) -> commands.Command:
    """Return the command on ``line``; refuse anything that is not exactly one."""
    return cast("commands.Command", _read(line, _COMMANDS))


def read_report(line: bytes) -> reports.Report:
    """Return the report on ``line``; refuse anything that is not exactly one."""
    return cast("reports.Report", _read(line, _REPORTS))


def _read(line: bytes, kinds: Mapping[str, type]) -> object:
    if len(line) > LINE_LIMIT:
        raise Refused(f"a line of {len(line)} bytes", allowed=f"up to {LINE_LIMIT}")
    try:
        said = json.loads(line.decode("ascii"), object_pairs_hook=_no_key_twice, parse_constant=_no_constant)
    except Refused:
        raise
    except (ValueError, RecursionError) as error:  # among them: too many digits, too deep
        raise Refused(
            f"unreadable line {line[:60]!r} ({error})", allowed="one JSON object in ASCII"
        ) from None
    if not isinstance(said, dict):
        raise Refused(f"unreadable line {line[:60]!r}", allowed="one JSON object")
    kind = kinds.get(str(said.pop("say", None)))
    if kind is None:
        raise Refused(f"unreadable line {line[:60]!r}", allowed="'say' with one of " + ", ".join(kinds))
    return _build(kind, said)


def _build(kind: type[Fact], said: Mapping[str, Any]) -> Fact:
    wanted = [field.name for field in fields(cast("Any", kind))]
    if sorted(said) != sorted(wanted):
        raise Refused(f"{kind.__name__} with {', '.join(said) or 'nothing'}", allowed=", ".join(wanted))
    hints = _HINTS[kind]
    return kind(**{name: _accept(hints[name], said[name], f"{kind.__name__}.{name}") for name in wanted})


def _accept(hint: object, value: object, where: str) -> object:
    if isinstance(hint, UnionType):
        (inner,) = (arg for arg in get_args(hint) if arg is not NoneType)
        return None if value is None else _accept(inner, value, where)
    if get_origin(hint) is tuple:
        return _accept_all(get_args(hint)[0], value, where)
    if not _fits(hint, value):
        raise Refused(f"{value!r:.60}", where=where, allowed=getattr(hint, "__name__", str(hint)))
    return float(cast("float", value)) if hint is float else value


def _fits(hint: object, value: object) -> bool:
    if get_origin(hint) is Literal:
        return isinstance(value, str) and value in get_args(hint)
    if hint is float:
        # By its bounds: a whole number of four hundred digits is finite, but no float.
        return isinstance(value, int | float) and not isinstance(value, bool) and -_MOST <= value <= _MOST
    if hint is str:
        return isinstance(value, str) and len(value) <= _LONGEST_TEXT
    return type(value) is hint


def _accept_all(kind: type[Fact], value: object, where: str) -> tuple[Fact, ...]:
    if not isinstance(value, list) or not all(isinstance(each, dict) for each in value):
        raise Refused(f"{value!r:.60}", where=where, allowed=f"a list of {kind.__name__}")
    return tuple(_build(kind, each) for each in value)


def _no_key_twice(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    said = dict(pairs)
    if len(said) != len(pairs):
        raise Refused("a key given twice", allowed="each key once")
    return said


def _no_constant(word: str) -> float:
    raise Refused(f"the number {word}", allowed="finite numbers")
