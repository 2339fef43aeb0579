"""The advice for the next plate is the mean of what the judged ones wanted, with an honest doubt."""

from __future__ import annotations

from math import exp, log, sqrt

import pytest

from firmware_py.craft.next_plate import Tried, next_plate
from firmware_py.craft.refusal import Refused


def test_no_verdict_gives_no_advice():
    with pytest.raises(Refused, match="at least one verdict"):
        next_plate([])


def test_one_plate_by_hand():
    """Hard and right, 6:00: a quarter shorter, a third of a stop more; an eye is good to 15 %, 1/2 stop."""
    advice = next_plate([Tried("1", 360, "hard", "right", appeared_s=60, exposed_stops=-0.5)])
    assert advice.equivalent_s.value == pytest.approx(270)
    assert advice.equivalent_s.doubt == pytest.approx(0.15 * 270)
    assert advice.equivalent_s.scatter is None
    assert advice.factor is not None
    assert advice.factor.value == pytest.approx(4.5)
    assert advice.exposure_stops == pytest.approx(1 / 3)
    assert advice.correction_stops is not None
    assert advice.correction_stops.value == pytest.approx(-1 / 6)
    assert advice.correction_stops.doubt == 0.5
    assert not advice.is_firm


def test_three_plates_by_hand():
    """They wanted 270 s, 300 s and 300·√1.35 s; and -1/6, +0.5 and 0.3 - 1/6 stops against the reckoning."""
    advice = next_plate(
        [
            Tried("1", 360, "hard", "right", exposed_stops=-0.5),
            Tried("2", 300, "right", "right", exposed_stops=0.5),
            Tried("3", 300, "rather flat", "right", exposed_stops=0.3),
        ]
    )
    logs = [log(270), log(300), log(300) + 0.5 * log(1.35)]
    middle = sum(logs) / 3
    scatter = sqrt(sum((one - middle) ** 2 for one in logs) / 2)
    assert scatter > 0.10  # 0.128: less than an eye's own 0.15, which then counts
    assert advice.equivalent_s.value == pytest.approx(exp(middle))
    assert advice.equivalent_s.doubt == pytest.approx(exp(middle) * 0.15 / sqrt(3))
    stops = [-1 / 6, 0.5, 0.3 - 1 / 6]
    mean = sum(stops) / 3
    assert advice.correction_stops is not None
    assert advice.correction_stops.value == pytest.approx(mean)
    assert advice.correction_stops.scatter == pytest.approx(sqrt(sum((s - mean) ** 2 for s in stops) / 2))
    assert advice.correction_stops.doubt == pytest.approx(0.5 / sqrt(3))
    assert advice.exposure_stops == pytest.approx(mean - 0.3)


def test_without_exposures_only_the_last_plate_tells_of_exposure():
    advice = next_plate([Tried("1", 300, "right", "thin"), Tried("2", 300, "right", "right")])
    assert (advice.exposure_stops, advice.correction_stops) == (0.0, None)


def test_measured_gammas_give_a_growth_and_a_measured_range_the_time():
    """gamma 0.8 at 4 min and 1.2 at 8 min: gamma_inf 1.6, exp(-8k) = 1/4, k = ln 2 / 4 per min.

    A range of 1.4 at 8 min that should be 1.05 wants gamma 0.9: exp(-k t) = 1 - 0.9/1.6 = 0.4375.
    A shadow 0.30 over fog becomes 0.225; to stand at 0.15 it wants (0.15 - 0.225) / 0.9 / log10(2) stops.
    """
    advice = next_plate(
        [
            Tried("1", 240, "right", "right", gamma=0.8),
            Tried("2", 480, "hard", "dense", gamma=1.2, density_range=1.4, shadow_over_fog=0.3),
        ],
        wanted_range=1.05,
    )
    assert advice.growth is not None
    assert advice.growth.gamma_inf == pytest.approx(1.6, rel=1e-4)
    wanted_s = -60 * log(0.4375) / (log(2) / 4)
    assert advice.equivalent_s.value == pytest.approx(sqrt(240 * wanted_s), rel=1e-4)
    assert advice.exposure_stops == pytest.approx(-0.075 / 0.9 / 0.30103, rel=1e-3)


def test_a_contrast_beyond_the_growth_falls_back_on_the_plain_ratio():
    plates = [Tried("1", 240, "right", "right", gamma=0.8), Tried("2", 900, "flat", "right", gamma=0.95)]
    advice = next_plate(plates)
    assert advice.growth is not None
    assert advice.equivalent_s.value == pytest.approx(sqrt(240 * 900 * 1.35))


def test_four_plates_that_agree_are_firm_and_four_that_do_not_are_not():
    agree = [Tried(str(n), 300 + n, "right", "right", exposed_stops=0.5) for n in range(4)]
    assert next_plate(agree).is_firm
    assert not next_plate(agree[:3]).is_firm
    scattered = [Tried(str(n), 300, "right", "right", exposed_stops=float(n)) for n in range(4)]
    assert not next_plate(scattered).is_firm
