"""The craft's pages, from its docstrings: every public function and class, with range and source."""

from __future__ import annotations

import inspect
import re
from collections.abc import Iterator, Mapping
from importlib import import_module
from pkgutil import iter_modules
from types import MappingProxyType, ModuleType

from docs.made.tables import said
from firmware_py import craft

PACKAGE = "firmware_py.craft"
# The rooms of the craft in the order of the manual; what stands in no group is common ground.
_NAMED: Mapping[str, tuple[str, ...]] = MappingProxyType(
    {
        "development": (
            "coefficient",
            "rates",
            "equivalent",
            "cooling",
            "tray",
            "appearance",
            "endings",
            "routine",
        ),
        "contrast": ("contrast", "curve", "advice", "verdict", "next_plate"),
        "belief": (
            "belief",
            "evidence",
            "emulsion",
            "plate_facts",
            "likelihood",
            "expecting",
            "laws",
            "least_squares",
            "sampling",
            "changing",
            "fogging",
            "fitting",
            "deciding",
            "learning",
            "causes",
        ),
        "light": (
            "sun",
            "actinic",
            "actinic_table",
            "daylight",
            "scene",
            "moment",
            "place",
            "camera",
            "exposure_note",
            "stops",
            "speed",
            "shutter",
        ),
        "chemistry": (
            "molar_mass",
            "shelf",
            "hazards",
            "salts",
            "formula",
            "mixing",
            "card",
            "weighing",
            "percentage",
            "water",
            "tempering",
        ),
        "baths": ("baths", "exhaustion", "fixing", "washing"),
        "printing": ("lamp", "warming", "strips", "paper", "safelight"),
        "instruments": ("calibration", "proportioning", "plate_sizes", "units", "unit_words"),
        "simulation": ("simulation",),
    }
)
_GROUND = tuple(
    room.name
    for room in iter_modules(craft.__path__)
    if not any(room.name in group for group in _NAMED.values())
)
GROUPS: Mapping[str, tuple[str, ...]] = MappingProxyType({**_NAMED, "ground": _GROUND})
_SOURCE = re.compile(r"\s*\bSources?: ", re.DOTALL)


def craft_part(group: str) -> str:
    """Return what a group's rooms do."""
    return "\n\n".join(_room(import_module(f"{PACKAGE}.{room}")) for room in GROUPS[group])


def _room(room: ModuleType) -> str:
    name = room.__name__.removeprefix(f"{PACKAGE}.")
    parts = [f"### {name.replace('_', ' ').capitalize()}", said(room)]
    parts += [_entry(title, thing) for title, thing in public_things(room)]
    return "\n\n".join(parts)


def public_things(room: ModuleType) -> Iterator[tuple[str, object]]:
    """Yield the public functions and classes that a room defines, methods after their class."""
    for name, thing in vars(room).items():
        if name.startswith("_") or getattr(thing, "__module__", None) != room.__name__:
            continue
        if inspect.isfunction(thing):
            yield f"{name}({_names(thing)})", thing
        elif inspect.isclass(thing) and inspect.getdoc(thing):
            yield name, thing
            yield from _methods(name, thing)


def _methods(of: str, kind: type) -> Iterator[tuple[str, object]]:
    for name, body in vars(kind).items():
        thing = body.__func__ if isinstance(body, classmethod | staticmethod) else body
        if name.startswith("_") or not inspect.isfunction(thing) or not thing.__doc__:
            continue
        yield f"{of}.{name}({_names(thing)})", thing


def _names(function: object) -> str:
    if not callable(function):
        return ""
    return ", ".join(name for name in inspect.signature(function).parameters if name not in {"self", "cls"})


def _entry(title: str, thing: object) -> str:
    """Return a thing's title and words as one entry, its source in a line of its own."""
    words = _SOURCE.sub("\n\n*Source:* ", said(thing))
    body = "\n\n".join(_indented(part) for part in words.split("\n\n"))
    return f"- **`{title}`**\n\n{body}"


def _indented(part: str) -> str:
    return "\n".join(f"    {line}" for line in part.strip("\n").splitlines())
