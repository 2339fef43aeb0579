"""What the table of notices says of a notice's words is what the code says them with."""

from __future__ import annotations

import ast

import pytest

from docs.made.faults import ROOT, written
from firmware_py.bench.matters import MATTERS

ROOMS = ("facts", "bench", "rehearsal", "service", "journal", "switchboard")


@pytest.fixture(scope="module")
def spoken() -> str:
    """Every text in the code that a notice may be made of."""
    files = [file for room in ROOMS for file in (ROOT / "firmware_py" / room).rglob("*.py")]
    trees = [ast.parse(file.read_text(encoding="utf-8")) for file in files if file.stem != "matters"]
    texts = (ast.Constant, ast.JoinedStr)
    return "\n".join(written(node) for tree in trees for node in ast.walk(tree) if isinstance(node, texts))


@pytest.mark.parametrize("kind", MATTERS)
def test_every_piece_of_a_notice_stands_in_the_code(kind, spoken):
    pieces = [piece.strip(" :") for piece in MATTERS[kind].says.split("…")]
    assert [piece for piece in pieces if len(piece) > 3 and piece not in spoken] == []
