"""``embertray reckon extension`` adds up bellows, filters and reciprocity."""

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon


def test_a_magnification_of_a_quarter():
    answer = reckon("extension", "--magnification", "0.25")
    assert answer.values["factor"] == 1.5625
    assert reckon("extension", "--magnification", "1/4").values == answer.values


def test_bellows_and_distance_lead_to_the_same_factor():
    by_draw = reckon("extension", "--bellows", "252 mm", "--focal", "210 mm").values["factor"]
    by_distance = reckon("extension", "--distance", "1.26 m", "--focal", "210 mm").values["factor"]
    assert by_draw == pytest.approx(1.44)
    assert by_distance == pytest.approx(1.44)


def test_filters_and_time_and_a_plate_that_slackens():
    answer = reckon("extension", "--magnification", "1", "--filter", "2", "--filter", "1.5", "--time", "2s")
    assert answer.values["whole_factor"] == 12
    assert answer.values["time_s"] == 24
    assert answer.values["needed_s"] == pytest.approx(24 ** (1 / 0.86))
    assert answer.lines[-2] == "  2 s becomes 24 s"


def test_reciprocity_alone():
    answer = reckon("extension", "--time", "10s")
    assert answer.values["needed_s"] == pytest.approx(14.5, abs=0.05)
    assert reckon("extension", "--time", "10s", "--exponent", "1").values["needed_s"] == 10


@pytest.mark.parametrize(
    ("words", "place"),
    [
        (("--bellows", "300 mm"), "--focal"),
        (("--bellows", "150 mm", "--focal", "210 mm"), "bellows"),
        (("--bellows", "300 s", "--focal", "210 mm"), "--bellows"),
        (("--distance", "100 mm", "--focal", "210 mm"), "distance"),
        (("--magnification=-1",), "--magnification"),
        (("--filter", "yellow"), "--filter"),
        (("--filter", "0.5"), "filter"),
        (("--time", "10"), "--time"),
        (("--time", "10s", "--exponent", "1.5"), "--exponent"),
    ],
)
def test_what_can_not_be_is_refused_where_it_stands(words, place):
    with pytest.raises(Refused) as refusal:
        reckon("extension", *words)
    assert refusal.value.where == place
