"""The law of a plate, against Hurter and Driffield's form and the rows of growth that are in print."""

import math
from itertools import pairwise

import pytest

from firmware_py.craft.emulsion import Emulsion, Prior, emulsion_of, height, theta_of
from firmware_py.craft.refusal import Refused

# Worked from F. Hurter and V. C. Driffield's law, form from memory: gamma 1.05, inertia 0.20, limit of the
# opacity 1500, exposures doubling from 0.0391 (references-2.md, section 1).
HURTER_DRIFFIELD = (
    0.081, 0.150, 0.263, 0.429, 0.646, 0.902, 1.185, 1.482, 1.785, 2.089, 2.388, 2.674, 2.932,
)  # fmt: skip


def plate(**changed: float) -> Emulsion:
    usual = {
        "speed_stops": 0.0,
        "gamma_inf": 1.5,
        "k_per_min": 0.25,
        "ln_per_K": 0.065,
        "toe": 1 / math.log(10),
        "shoulder": 3.2,
        "appears": 0.13,
        "sooner_per_stop": 0.15,
    }
    return Emulsion(**(usual | changed))


def test_the_curve_follows_hurter_and_driffields():
    """With a toe of 1 / ln 10 the two toes are the same law; the shoulder, fitted, is near theirs."""
    curve = plate(shoulder=3.02)
    for number, density in enumerate(HURTER_DRIFFIELD):
        exposure = 0.0391 * 2**number
        assert 1.05 * curve.height(math.log10(exposure / 0.20)) == pytest.approx(density, abs=0.02)


def test_the_curve_rises_everywhere_and_bends_over():
    heights = [height(x / 10, 0.3, 2.4) for x in range(-40, 80)]
    assert all(later >= earlier for earlier, later in pairwise(heights))
    assert heights[0] == pytest.approx(0, abs=1e-5)
    assert heights[-1] == pytest.approx(2.4, abs=0.01)


def test_the_growth_is_that_in_print():
    """H. E. Ives, Airplane Photography, 1920: gamma infinity 2.12, 0.400 to base 10: near 2 in 2 1/2 min."""
    ives = plate(gamma_inf=2.12, k_per_min=0.400 * math.log(10))
    assert ives.gamma_at(150) == pytest.approx(1.91, abs=0.01)


def test_more_exposure_shows_sooner_and_a_quick_plate_too():
    assert plate().appears_at_s(1) < plate().appears_at_s(0)
    assert plate(k_per_min=0.5).appears_at_s(0) == pytest.approx(plate().appears_at_s(0) / 2)


def test_numbers_of_zero_mean_the_middle_of_the_prior():
    prior = Prior(speed_stops=0.5, usual_s=300)
    middle = emulsion_of(theta_of([0.0] * 12, prior))
    assert middle.speed_stops == 0.5
    assert middle.gamma_inf == prior.gamma_inf
    assert middle.k_per_min == pytest.approx(0.95 / 5)


@pytest.mark.parametrize(
    "wrong", [{"speed_doubt_stops": 0.0}, {"usual_s": 0.0}, {"ln_per_K": math.nan}, {"gamma_inf": 9.0}]
)
def test_a_prior_that_no_plate_has_is_refused(wrong):
    with pytest.raises(Refused):
        Prior(**wrong)
