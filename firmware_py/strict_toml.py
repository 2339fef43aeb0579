"""Read a TOML file a person wrote into typed facts, or say in one line what is wrong with it."""

from __future__ import annotations

import difflib
import os
import re
import stat
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any, BinaryIO, TypeVar

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.craft.units import (
    read_difference_K,
    read_length_mm,
    read_temperature_degC,
    read_time_s,
    read_volume_ml,
)

FILE_LIMIT = 1_000_000
T = TypeVar("T")


class Seconds(float):
    """A time [s], written with its unit: ``"20 ms"``, ``"7 min 30 s"``."""


class SignedSeconds(float):
    """A time [s] that may lie below zero, written with its unit: ``"-15 ms"``."""


class Millimetres(float):
    """A length [mm], written with its unit: ``"60 cm"``, ``"24 in"``."""


class DegC(float):
    """A temperature [degC], written with its unit: ``"20 degC"``, ``"68 degF"``."""


class Kelvins(float):
    """A difference of temperatures [K], written with its unit: ``"0.5 K"``."""


class Millilitres(float):
    """A volume [ml], written with its unit: ``"500 ml"``, ``"3 l"``."""


def read_toml(path: Path, shape: type[T]) -> T:
    """Return the file's content as ``shape`` (a msgspec Struct).

    Raises Refused with file, key, what was found and what is allowed. Source: own.
    """
    text = read_text(path, FILE_LIMIT)
    return read_toml_text(text, shape, where=str(path))


def open_plain_file(path: Path) -> BinaryIO:
    """Open a file to be read, without ever waiting for one. Source: own.

    Raises Refused where it cannot be opened, or is no plain file: a pipe or a device may never end.
    """
    try:
        handle = os.open(path, os.O_RDONLY | os.O_NONBLOCK | os.O_CLOEXEC)
    except (OSError, ValueError) as error:  # ValueError: a name with a zero in it
        why = getattr(error, "strerror", None) or str(error)
        raise Refused(f"cannot be read ({why})", where=str(path)) from error
    if not stat.S_ISREG(os.fstat(handle).st_mode):
        os.close(handle)
        raise Refused("cannot be read (it is no plain file)", where=str(path))
    return os.fdopen(handle, "rb")


def read_text(path: Path, limit: int) -> str:
    """Return a file's text, of at most ``limit`` bytes, however long the file claims to be.

    Raises Refused where it cannot be read, is longer, or is not UTF-8. Source: own.
    """
    with open_plain_file(path) as file:
        try:
            content = file.read(limit + 1)
        except OSError as error:
            raise Refused(f"cannot be read ({error.strerror})", where=str(path)) from error
    if len(content) > limit:
        raise Refused("file is too large", where=str(path), allowed=f"up to {limit} bytes")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise Refused("is not UTF-8 text", where=str(path)) from error


def read_toml_text(text: str, shape: type[T], *, where: str) -> T:
    """Return TOML text as ``shape``; ``where`` names the text in a refusal."""
    try:
        raw = tomllib.loads(text)
    except (ValueError, RecursionError) as error:  # ValueError: also a number of thousands of digits
        raise Refused(f"is not TOML: {error}", where=where) from error
    if _has_zero(raw):
        raise Refused("has a zero sign", where=where, allowed="text that can be the name of a file")
    try:
        return msgspec.convert(raw, shape, dec_hook=_quantity, strict=True)
    except msgspec.ValidationError as error:
        raise _explained(str(error), text, raw, shape, where) from error
    except Refused as error:
        raise error.at(where) from error


def _has_zero(raw: Any) -> bool:
    if isinstance(raw, dict):
        return any(_has_zero(key) or _has_zero(value) for key, value in raw.items())
    if isinstance(raw, list):
        return any(map(_has_zero, raw))
    return isinstance(raw, str) and "\0" in raw


def _quantity(kind: type, found: Any) -> Any:
    if kind not in _READERS:
        raise NotImplementedError(kind)
    if not isinstance(found, str):
        raise ValueError(f"needs text with a unit, such as {_EXAMPLES[kind]!r}, not {found!r}")  # noqa: TRY004 - msgspec carries ValueErrors to the place they belong to
    return kind(_READERS[kind](found))


def _quantity_reader(read: Any) -> Any:
    def reader(text: str) -> float:
        return float(read(text, where=""))

    return reader


def _read_signed_time_s(text: str, *, where: str) -> float:
    tidy = text.strip()
    return -read_time_s(tidy[1:], where=where) if tidy.startswith("-") else read_time_s(tidy, where=where)


_READERS = {
    Seconds: _quantity_reader(read_time_s),
    SignedSeconds: _quantity_reader(_read_signed_time_s),
    Millimetres: _quantity_reader(read_length_mm),
    DegC: _quantity_reader(read_temperature_degC),
    Kelvins: _quantity_reader(read_difference_K),
    Millilitres: _quantity_reader(read_volume_ml),
}
_EXAMPLES = {
    Seconds: "20 s",
    SignedSeconds: "-15 ms",
    Millimetres: "60 cm",
    DegC: "20 degC",
    Kelvins: "0.5 K",
    Millilitres: "500 ml",
}


def line_in(text: str, path: str) -> str:
    """Return "line 7" for the line of TOML text on which the key or table of ``path`` stands, or nothing."""
    return _line_of(text, path).removesuffix(", ")


# --- turning msgspec's words into ours ---

_PATH = re.compile(r"^(?P<what>.*?)(?: - at `(?P<key>(?:key in )?\$.*?)`)?$", re.DOTALL)
_UNKNOWN = re.compile(r"Object contains unknown field `(?P<name>.*)`", re.DOTALL)
_MISSING = re.compile(r"Object missing required field `(?P<name>.*)`", re.DOTALL)


def _explained(message: str, text: str, raw: Any, shape: type, where: str) -> Refused:
    found = _PATH.match(message)
    what = found["what"] if found else message
    path = ((found["key"] if found else None) or "$").removeprefix("key in ").removeprefix("$").lstrip(".")
    if "[...]" in path:
        path = _entry_named(path, raw, shape, message)
    if unknown := _UNKNOWN.match(what):
        known = sorted(_fields_at(shape, path))
        key = unknown["name"]
        near = difflib.get_close_matches(key, known, n=1)
        hint = f"; did you mean `{near[0]}`?" if near else ""
        place = f"{where}, {_line_of(text, _joined(path, key))}key `{_joined(path, key)}`"
        return Refused(f"is not known{hint}", where=place, allowed=", ".join(known))
    if missing := _MISSING.match(what):
        place = f"{where}, {_line_of(text, path)}key `{_joined(path, missing['name'])}`"
        return Refused("is missing", where=place)
    value = _value_at(raw, path)
    given = "" if value is None or isinstance(value, dict | list) else f" (found {value!r})"
    place = f"{where}, {_line_of(text, path)}key `{path or 'the whole'}`"
    return Refused(f"{what}{given}", where=place, allowed=", ".join(_choices_at(shape, path)))


def _entry_named(path: str, raw: Any, shape: type, message: str) -> str:
    """Return the path with the name of the table's entry that the message is about, where it is plain."""
    table, _, rest = path.partition("[...]")
    for name in raw.get(table, {}):
        alone = {**raw, table: {name: raw[table][name]}}
        try:
            msgspec.convert(alone, shape, dec_hook=_quantity, strict=True)
        except msgspec.ValidationError as error:
            if str(error) == message:
                return f"{table}.{name}{rest}"
    return path


def _joined(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key


_HEADING = re.compile(r"^\s*\[(?P<many>\[?)(?P<name>[^\[\]]+)\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"^\s*(?P<name>[\w\"'.-]+)\s*=")


def _line_of(text: str, path: str) -> str:
    """Return "line 7, " for the line on which a key or its table stands, or nothing."""
    lines = _lines(text)
    while path and path not in lines:
        path = re.sub(r"(?:^|\.)[^.\[\]]*$|\[[^\]]*\]$", "", path)
    return f"line {lines[path]}, " if path else ""


def _lines(text: str) -> dict[str, int]:
    """Return the line of every table and key, by its path: ``step[2].development.target``."""
    lines: dict[str, int] = {}
    counts: dict[str, int] = {}
    table = ""
    for number, line in enumerate(text.splitlines(), 1):
        if heading := _HEADING.match(line):
            table = _table_path(heading["name"], counts, many=bool(heading["many"]))
            lines.setdefault(table, number)
        elif key := _KEY.match(line):
            lines.setdefault(_joined(table, _bare(key["name"])), number)
    return lines


def _table_path(name: str, counts: dict[str, int], *, many: bool) -> str:
    *outer, last = [_bare(part) for part in name.split(".")]
    path = ""
    for part in outer:
        path = _joined(path, part)
        path += f"[{counts[path] - 1}]" if path in counts else ""
    path = _joined(path, last)
    if not many:
        return path
    counts[path] = counts.get(path, 0) + 1
    return f"{path}[{counts[path] - 1}]"


def _bare(name: str) -> str:
    return name.strip().strip("\"'")


def _choices_at(shape: Any, path: str) -> Iterator[str]:
    for kind in _kinds_at(shape, path):
        for plain in _plain(kind):
            if isinstance(plain, msgspec.inspect.LiteralType):
                yield from (str(value) for value in plain.values)


def _kinds_at(shape: Any, path: str) -> list[Any]:
    kinds: list[Any] = [msgspec.inspect.type_info(shape)]
    for part in re.findall(r"[^.\[\]]+|\[[^\]]*\]", path):
        kinds = [inner for kind in kinds for inner in _step_into(kind, part)]
    return kinds


def _fields_at(shape: Any, path: str) -> Iterator[str]:
    for kind in _kinds_at(shape, path):
        for plain in _plain(kind):
            if isinstance(plain, msgspec.inspect.StructType):
                yield from (f.encode_name for f in plain.fields)


def _plain(kind: Any) -> Iterator[Any]:
    if isinstance(kind, msgspec.inspect.UnionType):
        for one in kind.types:
            yield from _plain(one)
    elif isinstance(kind, msgspec.inspect.Metadata):
        yield from _plain(kind.type)
    else:
        yield kind


def _step_into(kind: Any, part: str) -> Iterator[Any]:
    for plain in _plain(kind):
        if isinstance(plain, msgspec.inspect.StructType):
            yield from (f.type for f in plain.fields if f.encode_name == part)
        elif isinstance(plain, msgspec.inspect.DictType):
            yield plain.value_type  # whatever the entry is called
        elif isinstance(plain, msgspec.inspect.ListType | msgspec.inspect.VarTupleType):
            yield plain.item_type


def _value_at(raw: Any, path: str) -> Any:
    value = raw
    for part in re.findall(r"[^.\[\]]+|\[\d+\]", path):
        try:
            value = value[int(part[1:-1])] if part.startswith("[") else value[part]
        except (KeyError, IndexError, TypeError):
            return None
    return value
