"""``embertray reckon speed`` turns what a definition joins, and refuses the rest."""

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon


def test_an_hd_speed_in_its_whole_family():
    answer = reckon("speed", "--hd", "200")
    assert answer.values == pytest.approx(
        {"hd": 200, "inertia_cms": 0.17, "watkins": 294.1176, "wynne_f": 109.7591}
    )
    assert answer.lines[0] == "H&D 200"


def test_one_scale_alone():
    assert reckon("speed", "--iso", "100", "--to", "iso-degrees").values["iso_degrees"] == pytest.approx(21)


def test_two_plates_compared():
    answer = reckon("speed", "--scheiner", "10", "--than", "13")
    assert answer.values["times_faster"] == pytest.approx(1 / 2.069, rel=1e-3)
    assert "slower" in answer.lines[-1]


@pytest.mark.parametrize("scale", ["iso", "iso-degrees", "scheiner"])
def test_hd_to_anything_modern_is_refused_with_a_way_out(scale):
    with pytest.raises(Refused, match="trial exposure"):
        reckon("speed", "--hd", "200", "--to", scale)


def test_an_unknown_scale_and_no_speed_are_refused():
    with pytest.raises(Refused, match="not known"):
        reckon("speed", "--hd", "200", "--to", "warnerke")
    with pytest.raises(Refused):
        reckon("speed", "--hd", "0")
    with pytest.raises(Refused, match="--than"):
        reckon("speed", "--hd", "200", "--than", "fast")
