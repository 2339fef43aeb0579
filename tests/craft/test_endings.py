"""What may end a development: time, appearance, the eye, and the ceiling over all of them."""

from __future__ import annotations

from dataclasses import replace

from firmware_py.craft.endings import Ending, endings
from firmware_py.craft.routine import Development

BY_TIME = Development(
    target_s=360.0, reference_degC=20.0, low_degC=13.0, high_degC=25.0, ln_per_K=0.08, ceiling_s=900.0
)


def test_a_development_by_time_ends_at_its_target_and_would_at_its_ceiling():
    assert endings(BY_TIME, None) == (
        Ending("time", ends=True, equivalent_s=360.0),
        Ending("ceiling", ends=True, equivalent_s=900.0),
    )


def test_the_factor_is_unknown_before_the_image_appears_and_multiplies_its_equivalent_time_after():
    """Wall: 45 s x 5 are 3 min 45 s; here in equivalent time."""
    given = replace(BY_TIME, ends=("appearance",), factor=5.0)
    assert [e.by for e in endings(given, None)] == ["time", "ceiling"]
    assert endings(given, 45.0)[1] == Ending("appearance", ends=True, equivalent_s=225.0)
    assert not endings(given, 45.0)[0].ends


def test_an_appearance_at_the_very_start_tells_nothing():
    given = replace(BY_TIME, ends=("appearance",), factor=5.0)
    assert [e.by for e in endings(given, 0.0)] == ["time", "ceiling"]


def test_the_ceiling_of_an_inspection_calls_and_ends_nothing():
    given = replace(BY_TIME, ends=("inspection",), factor=5.0, longest_s=1800.0)
    told = endings(given, 45.0)
    assert not any(e.ends for e in told)
    assert told[-1] == Ending("ceiling", ends=False, elapsed_s=1800.0)
