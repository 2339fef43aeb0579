"""A probe held against ice or a good thermometer: the offset, how good it is, and when it is none."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.calibration import ICE_TOLERANCE_K, ICE_POINT_degC, calibrated
from firmware_py.craft.refusal import Refused


def test_the_offset_is_added_and_found_by_the_median():
    """One wild reading in eleven changes nothing, as long as it is within the steady band."""
    found = calibrated([0.3125] * 10 + [0.5], ICE_POINT_degC, ICE_TOLERANCE_K)
    assert found.offset_K == -0.3125
    assert found.tolerance_K == pytest.approx((0.1**2 + 0.0625**2) ** 0.5)


def test_an_offset_from_ice_is_trusted_less_at_twenty_degrees():
    at_ice = calibrated([0.0] * 10, 0.0, 0.1)
    assert at_ice.tolerance_at_K(20.0) - at_ice.tolerance_at_K(0.0) == pytest.approx(0.2)


@given(st.floats(-2.5, 2.5), st.floats(0.0, 40.0))
def test_corrected_readings_come_to_the_reference(offset_K, reference_degC):
    found = calibrated([reference_degC - offset_K] * 12, reference_degC, 0.1)
    assert reference_degC - offset_K + found.offset_K == pytest.approx(reference_degC, abs=1e-9)


@pytest.mark.parametrize(
    ("readings", "reference", "tolerance", "words"),
    [
        ([0.1] * 9, 0.0, 0.1, "9 readings; allowed: 10 or more"),
        ([0.1] * 9 + [float("nan")], 0.0, 0.1, "10 readings"),
        ([0.1] * 9 + [0.5], 0.0, 0.1, "0.40 K apart"),
        ([3.5] * 10, 0.0, 0.1, "3.5 K out"),
        ([20.0] * 10, 75.0, 0.1, "reference at 75"),
        ([20.0] * 10, float("nan"), 0.1, "reference"),
        ([20.0] * 10, 20.0, 3.0, "good to 3 K"),
        ([20.0] * 10, 20.0, -1.0, "tolerance"),
    ],
)
def test_what_is_no_calibration_is_refused(readings, reference, tolerance, words):
    with pytest.raises(Refused, match=words):
        calibrated(readings, reference, tolerance)
