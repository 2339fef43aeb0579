"""A bare number is in the unit that its field has; another unit is written, what is neither is refused."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from tui.cli import main
from tui.commands.reckonings.own_unit import bare_degC, bare_ml, bare_mm


@pytest.mark.parametrize(
    ("read", "bare", "written", "value"),
    [
        (bare_degC, "20", "68 degF", 20.0),
        (bare_degC, "18,5", "18.5 degC", 18.5),
        (bare_degC, "-2", "-2 degC", -2.0),
        (bare_ml, "500", "0.5 l", 500.0),
        (bare_mm, "165", "16.5 cm", 165.0),
    ],
)
def test_a_bare_number_is_in_the_fields_own_unit(read, bare, written, value):
    assert read(bare, where="--x") == pytest.approx(value)
    assert read(written, where="--x") == pytest.approx(value)


@pytest.mark.parametrize("text", ["", "warm", "20 s", "1e9", "20 21"])
def test_what_is_neither_is_refused(text):
    with pytest.raises(Refused, match="--to"):
        bare_degC(text, where="--to")


def test_bare_degrees_and_millilitres_do_on_the_command_line(capsys):
    said = []
    for degrees, volume in ((("20", "16"), "500"), (("20degC", "16degC"), "500ml")):
        words = ["--time", "6min", "--from", degrees[0], "--to", degrees[1], "--coefficient", "2.36/10K"]
        assert main(["reckon", "temperature", *words]) == 0
        assert main(["mix", "plain-hypo", "--make", volume]) == 0
        said.append(capsys.readouterr().out)
    assert said[0] == said[1]


def test_among_the_systems_of_stops_a_bare_number_asks(capsys):
    assert main(["reckon", "stops", "--stop", "8", "--to", "f/16"]) == 1
    assert '--stop: "8" can be f/8, or U.S. 8 which is f/11' in capsys.readouterr().err
