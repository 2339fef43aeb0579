"""Growth of contrast and the characteristic curve against print and against scipy."""

import random

import numpy as np
import pytest
from scipy.optimize import curve_fit
from scipy.stats import linregress

from firmware_py.craft import contrast as craft
from firmware_py.craft.curve import straight_part
from firmware_py.craft.speed import hd_from_inertia


def test_ives_pyro_metol_from_its_own_two_points():
    """H. E. Ives, Airplane Photography (1920): gamma_inf 1.45, kappa 0.320, here to base e."""
    found = craft.fit_growth([(180.0, 0.8948), (360.0, 1.2374)]).growth
    assert found.gamma_inf == pytest.approx(1.45, abs=0.0005)
    assert found.k_per_min == pytest.approx(0.320, abs=0.0005)
    assert found.time_for(1.1) == pytest.approx(-60 * np.log(1 - 1.1 / 1.45) / 0.32, abs=0.1)


def test_ives_constant_is_to_base_ten():
    """Same: chlorhydroquinone 2.12 and 0.400, in his words a gamma of nearly 2 in 2 1/2 minutes."""
    by_ten = craft.Growth(2.12, craft.read_growth_constant("0.400log10/min", where="k"))
    assert by_ten.gamma_at(150) == pytest.approx(1.91, abs=0.005)
    assert craft.Growth(2.12, 0.400).gamma_at(150) < 1.4


def law(minutes, gamma_inf, k_per_min):
    return gamma_inf * (1 - np.exp(-k_per_min * minutes))


@pytest.mark.parametrize("seed", range(12))
def test_the_fit_is_scipys_curve_fit(seed):
    """scipy.optimize.curve_fit on noisy points: values and uncertainties within 1e-5."""
    dice = np.random.default_rng(seed)
    minutes = np.linspace(1.5, 9, int(dice.integers(3, 8)))
    gammas = law(minutes, 1.6, 0.25) + dice.normal(0, 0.02, minutes.size)
    values, covariance = curve_fit(law, minutes, gammas, p0=(1.5, 0.3), xtol=1e-13, ftol=1e-13)
    ours = craft.fit_growth([(60 * float(t), float(g)) for t, g in zip(minutes, gammas, strict=True)])
    assert ours.growth.gamma_inf == pytest.approx(values[0], rel=1e-5)
    assert ours.growth.k_per_min == pytest.approx(values[1], rel=1e-5)
    assert ours.gamma_inf_doubt == pytest.approx(covariance[0, 0] ** 0.5, rel=1e-4)
    assert ours.k_doubt_per_min == pytest.approx(covariance[1, 1] ** 0.5, rel=1e-4)
    assert ours.covariance == pytest.approx(covariance[0, 1], rel=1e-4)


def test_the_doubt_of_a_time_is_what_scattered_readings_show():
    """Eight hundred imagined pairs of readings, each out by 0.01: scatter of the time within a tenth."""
    dice = random.Random(3)
    times = []
    for _ in range(800):
        points = [(t, craft.Growth(1.45, 0.32).gamma_at(t) + dice.gauss(0, 0.01)) for t in (180.0, 480.0)]
        times.append(craft.fit_growth(points).growth.time_for(1.0))
    expected = craft.fit_growth(
        [(t, craft.Growth(1.45, 0.32).gamma_at(t)) for t in (180.0, 480.0)], gamma_doubt=0.01
    )
    assert np.std(times) == pytest.approx(expected.time_doubt_s(1.0), rel=0.1)


def test_the_straight_part_is_scipys_regression():
    """scipy.stats.linregress over the run that was chosen: slope within floating point."""
    densities = [0.10, 0.11, 0.13, 0.18, 0.27, 0.39, 0.53, 0.68, 0.83, 0.98, 1.13, 1.27, 1.38, 1.46]
    points = [(0.15 * n, d) for n, d in enumerate(densities)]
    found = straight_part(points, 0.10)
    run = [(x, d) for x, d in points if found.from_log - 1e-9 <= x <= found.to_log + 1e-9]
    line = linregress([x for x, _ in run], [d for _, d in run])
    assert found.gamma == pytest.approx(line.slope, rel=1e-12)
    assert found.inertia_log == pytest.approx((0.10 - line.intercept) / line.slope, rel=1e-12)


def test_speed_from_the_inertia_of_a_curve():
    """M. J. Martin, Wireless Transmission of Photographs, 2nd ed. (1919): inertia 1/5 is H & D 170."""
    inertia_log = np.log10(1 / 5)
    points = [(-2 + 0.15 * n, max(0.0, 1.1 * (-2 + 0.15 * n - inertia_log))) for n in range(25)]
    assert hd_from_inertia(straight_part(points, 0.0).inertia) == pytest.approx(170, rel=0.01)
