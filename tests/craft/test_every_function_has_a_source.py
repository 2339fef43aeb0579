"""Everything public in the craft says where it comes from: a source, common practice, memory, or own."""

from __future__ import annotations

import inspect
import pkgutil
from collections.abc import Iterator
from importlib import import_module

import pytest

import firmware_py.craft

ROOMS = [room.name for room in pkgutil.walk_packages(firmware_py.craft.__path__, "firmware_py.craft.")]


def public_things(room: str) -> Iterator[tuple[str, object]]:
    """Yield the public functions a room defines, and its classes that reckon: those with public methods.

    A class speaks for its methods; a class of bare facts has nothing to cite.
    """
    for name, thing in vars(import_module(room)).items():
        if name.startswith("_") or getattr(thing, "__module__", None) != room:
            continue
        if inspect.isfunction(thing) or (inspect.isclass(thing) and _reckons(thing)):
            yield f"{room}.{name}", thing


def _reckons(of: type) -> bool:
    return any(
        not name.startswith("_")
        and (inspect.isfunction(body) or isinstance(body, property | classmethod | staticmethod))
        for name, body in vars(of).items()
    )


@pytest.mark.parametrize("room", ROOMS)
def test_every_public_function_and_class_says_its_source(room):
    silent = [name for name, thing in public_things(room) if "ource" not in (inspect.getdoc(thing) or "")]
    assert silent == []


@pytest.mark.parametrize("room", ROOMS)
def test_every_room_begins_with_what_it_is_for(room):
    said = (import_module(room).__doc__ or "").strip()
    assert said, room
    assert len(said.splitlines()[0]) > 10
