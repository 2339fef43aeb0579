"""What a type of a file that a person writes allows, in words."""

from __future__ import annotations

import types
from collections.abc import Iterable
from typing import Annotated, Any, Literal, Union, get_args, get_origin

import msgspec

from firmware_py.strict_toml import DegC, Kelvins, Millilitres, Millimetres, Seconds, SignedSeconds

QUANTITIES: dict[type, tuple[str, str, str]] = {
    Seconds: ("a time", "20 s", "s"),
    SignedSeconds: ("a time, also below zero", "-15 ms", "s"),
    Millimetres: ("a length", "60 cm", "mm"),
    DegC: ("a temperature", "20 degC", "degC"),
    Kelvins: ("a difference of temperatures", "0.5 K", "K"),
    Millilitres: ("a volume", "500 ml", "ml"),
}
_PLAIN: dict[object, str] = {str: "text", int: "a whole number", float: "a number", bool: "`true` or `false`"}


def allowed_words(kind: object) -> str:
    """Return in words what may be written where a type stands."""
    if isinstance(kind, type) and kind in QUANTITIES:
        name, example, _ = QUANTITIES[kind]
        return f'{name}, such as `"{example}"`'
    if get_origin(kind) is not None:
        return _composed(get_origin(kind), get_args(kind))
    if isinstance(kind, type) and issubclass(kind, msgspec.Struct):
        return "a table of its own"
    return _PLAIN[kind]


def _composed(origin: object, parts: tuple[Any, ...]) -> str:
    if origin is Literal:
        return ", ".join(_written(one) for one in parts)
    if origin is Annotated:
        return f"{allowed_words(parts[0])}{_limits(parts[1:])}"
    inside = [allowed_words(part) for part in parts if part not in {..., type(None)}]
    if origin in {Union, types.UnionType}:
        return " or ".join(inside)
    if origin is dict:
        return f"a table of {inside[1]}"
    return f"a list of {inside[0]}" if origin is list or ... in parts else f"[{'; '.join(inside)}]"


def _limits(metas: Iterable[msgspec.Meta]) -> str:
    words = []
    for meta in metas:
        low = meta.ge if meta.ge is not None else meta.gt
        high = meta.le if meta.le is not None else meta.lt
        if low is not None and high is not None:
            words.append(f"{low:g} to {high:g}" if meta.ge is not None else f"above {low:g}, to {high:g}")
        if meta.max_length is not None:
            words.append(f"at most {meta.max_length}")
    return f" ({', '.join(words)})" if words else ""


def default_words(field: msgspec.structs.FieldInfo) -> str:
    """Return in words what holds where a key is not written."""
    if field.required:
        return "must be there"
    value = field.default if field.default is not msgspec.NODEFAULT else field.default_factory()
    for kind, (_, _, unit) in QUANTITIES.items():
        if isinstance(value, kind):
            return f"{value:g} {unit}"
    if value is None or value in ("", [], {}, ()) or isinstance(value, msgspec.Struct):
        return "none"
    return _written(value)


def _written(value: object) -> str:
    """Return a value as it stands in the file."""
    if isinstance(value, str):
        return f'`"{value}"`'
    return f"`{str(value).lower()}`" if isinstance(value, bool) else f"`{value}`"
