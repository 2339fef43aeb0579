"""Speed scales: ways back, order, and refusals where no definition joins two scales."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft import speed
from firmware_py.craft.refusal import Refused

FAMILIES = [("inertia", "hd", "watkins", "wynne"), ("iso", "iso-degrees"), ("scheiner",)]
JOINED = [(one, other) for family in FAMILIES for one in family for other in family]
NOT_JOINED = [
    (one, other)
    for family in FAMILIES
    for one in family
    for other_family in FAMILIES
    for other in other_family
    if family != other_family
]
number = st.floats(1, 49)


@pytest.mark.parametrize(("one", "other"), JOINED)
@given(number=number)
def test_a_speed_turned_into_another_scale_leads_back(one, other, number):
    there = speed.convert_speed(number, one, other)
    assert speed.convert_speed(there, other, one) == pytest.approx(number)


@pytest.mark.parametrize(("one", "other"), NOT_JOINED)
def test_scales_that_no_definition_joins_are_refused_with_the_way_out(one, other):
    with pytest.raises(Refused, match="no constant holds") as refusal:
        speed.convert_speed(20, one, other)
    assert "trial exposure" in str(refusal.value)


@pytest.mark.parametrize("scale", [name for name in speed.SCALES if name != "inertia"])
@given(number=number)
def test_a_higher_number_is_a_faster_plate_in_every_scale_but_inertia(scale, number):
    assert speed.stops_between_speeds(number, number * 1.01, scale) > 0
    assert speed.stops_between_speeds(5, 6, "inertia") < 0


def test_double_the_speed_is_one_stop():
    assert speed.stops_between_speeds(100, 200, "hd") == pytest.approx(1)
    assert speed.stops_between_speeds(10, 10 * 2**0.5, "wynne") == pytest.approx(1)
    assert speed.stops_between_speeds(10, 13.0103, "iso-degrees") == pytest.approx(1, abs=1e-5)


@pytest.mark.parametrize("bad", [0, -1, float("nan"), float("inf")])
@pytest.mark.parametrize("scale", list(speed.SCALES))
def test_what_is_no_speed_is_refused(bad, scale):
    if scale == "iso-degrees" and bad in {0, -1}:
        assert speed.convert_speed(bad, scale, "iso") < 1
        return
    with pytest.raises(Refused):
        speed.ratio_of_speeds(20, bad, scale)


def test_an_unknown_scale_is_refused_with_the_known_ones():
    with pytest.raises(Refused, match="watkins"):
        speed.convert_speed(20, "warnerke", "hd")
