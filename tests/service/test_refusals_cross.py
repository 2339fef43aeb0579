"""A refusal crosses the socket as its fields, and comes out as what it was."""

from __future__ import annotations

import msgspec
import pytest

from firmware_py.craft.refusal import DeviceTrouble, Locked, NotNow, Refused, WrongInput
from firmware_py.service.messages import Refusal


@pytest.mark.parametrize("kind", [Refused, WrongInput, NotNow, Locked, DeviceTrouble])
def test_a_refusal_keeps_its_kind_and_its_parts(kind: type[Refused]):
    said = kind("the lamp is locked", where="interlock 1", allowed="a fixed plate", next="move the plate on")
    crossed = msgspec.json.decode(msgspec.json.encode(Refusal.of(said, 7)), type=Refusal)
    came = crossed.refused
    assert (type(came), came.line, crossed.ticket) == (kind, said.line, 7)
    assert (came.what, came.where, came.allowed, came.next) == (
        said.what,
        said.where,
        said.allowed,
        said.next,
    )


def test_the_outer_place_keeps_kind_and_parts():
    said = Locked("the lamp is locked", where="interlock 1", next="move the plate on").at("lamp")
    assert (type(said), said.line) == (
        Locked,
        "lamp: interlock 1: the lamp is locked; next: move the plate on",
    )
