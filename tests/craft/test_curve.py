"""A step tablet's densities give the straight part, the inertia and the mean gradient of a plate."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft import curve as craft
from firmware_py.craft.refusal import Refused


def plate(gamma, inertia_log, fog, dmax):
    """A curve with a soft toe and shoulder about a straight part of that gamma and inertia."""

    def density(x):
        toe = 0.12 * math.log1p(math.exp((x - inertia_log) / 0.12))
        top = dmax / gamma
        return fog + gamma * (top - 0.12 * math.log1p(math.exp((top - toe) / 0.12)) + 1e-9)

    return density


def straight(gamma, inertia_log, fog, count=21):
    exposures = [-1.0 + 0.15 * n for n in range(count)]
    return [(x, fog + max(0.0, gamma * (x - inertia_log))) for x in exposures]


@settings(max_examples=50)
@given(
    gamma=st.floats(min_value=0.4, max_value=3),
    inertia_log=st.floats(min_value=-0.7, max_value=0.5),
    fog=st.floats(min_value=0, max_value=0.4),
)
def test_a_straight_plate_gives_its_gamma_and_inertia_back(gamma, inertia_log, fog):
    found = craft.straight_part(straight(gamma, inertia_log, fog), fog)
    assert found.gamma == pytest.approx(gamma, rel=0.02)
    assert found.inertia_log == pytest.approx(inertia_log, abs=0.06)
    assert found.inertia == pytest.approx(10**found.inertia_log)


@pytest.mark.parametrize("gamma", [0.7, 1.0, 1.6])
def test_toe_and_shoulder_do_not_flatten_the_gamma(gamma):
    density = plate(gamma, 0.0, 0.1, 2.6)
    points = [(-1 + 0.15 * n, max(0.0, density(-1 + 0.15 * n))) for n in range(30)]
    found = craft.straight_part(points, points[0][1])
    assert found.gamma == pytest.approx(gamma, rel=0.03)
    assert found.inertia_log == pytest.approx(0.0, abs=0.05)
    assert found.misfit <= craft.STRAIGHT_TO


def test_exposing_more_moves_the_inertia_along_and_nothing_else():
    near = craft.straight_part(straight(1.2, 0.0, 0.1), 0.1)
    far = craft.straight_part([(x + 0.6, d) for x, d in straight(1.2, 0.0, 0.1)], 0.1)
    assert far.gamma == pytest.approx(near.gamma)
    assert far.inertia_log == pytest.approx(near.inertia_log + 0.6)


def test_the_mean_gradient_starts_a_tenth_over_fog():
    gradient = craft.mean_gradient(straight(0.8, 0.0, 0.2), 0.2)
    assert gradient.gradient == pytest.approx(0.8, rel=0.01)
    assert gradient.speed_point_log == pytest.approx(0.125, abs=0.02)
    assert gradient.density_range == pytest.approx(1.3 * gradient.gradient)
    assert gradient.speed == pytest.approx(0.8 / 10**gradient.speed_point_log)


def test_a_tablet_gives_points_in_order():
    assert craft.tablet_points([0.1, 0.1, 0.2, 0.4, 0.6], 0.15, -2)[:2] == ((-2, 0.1), (-1.85, 0.1))


@pytest.mark.parametrize(
    ("refuse", "said"),
    [
        (lambda: craft.tablet_points([0.1] * 4, 0.15), "5 or more"),
        (lambda: craft.tablet_points([0.1] * 4 + [-1], 0.15), "out of range"),
        (lambda: craft.tablet_points([0.1] * 5, 0), "steps of 0"),
        (lambda: craft.straight_part([(0.0, 0.1), (0.1, 0.2)], 0.1), "3 or more"),
        (lambda: craft.straight_part([(0.0, 0.1), (0.0, 0.2), (0.1, 0.3)], 0.1), "do not rise"),
        (lambda: craft.straight_part([(0.0, 0.1), (0.1, math.nan), (0.2, 0.3)], 0.1), "no number"),
        (lambda: craft.straight_part(straight(1, 0, 0.1), 9), "a fog of 9"),
        (
            lambda: craft.straight_part([(0.0, 0.5), (0.3, 0.4), (0.6, 0.3), (0.9, 0.2)], 0.2),
            "no three steps",
        ),
        (lambda: craft.mean_gradient(straight(1, 0, 0.1, count=12), 0.1), "the curve ends"),
        (lambda: craft.mean_gradient([(0.0, 0.1), (1.0, 0.12), (2.0, 0.15)], 0.1), "does not cross"),
    ],
)
def test_what_is_no_curve_is_refused(refuse, said):
    with pytest.raises(Refused, match=said):
        refuse()
