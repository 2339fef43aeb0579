"""Temperature of development against printed figures and against scipy."""

import math
import random
from itertools import pairwise

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.interpolate import PchipInterpolator

from firmware_py.craft import temperature as craft
from firmware_py.craft.monotone import monotone_curve

RATE = craft.CoefficientRate(math.log(2.4) / 10, 20.0)
TABLE = craft.TableRate(((14.0, 620.0), (16.0, 510.0), (18.0, 435.0), (20.0, 360.0), (24.0, 252.0)), 20.0)


def test_wall_metol_hydroquinone():
    """E. J. Wall, Jahrbuch 24 (1910) p. 44: 70 s at 8 degC, 25 s at 20; printed 0.037 per degree."""
    measured = craft.measured_coefficient([(70.0, 8.0), (25.0, 20.0)])
    assert craft.log10_per_K_from_ln(measured.ln_per_K) == pytest.approx(0.037, abs=0.0005)
    assert craft.ratio_from_ln_per_K(measured.ln_per_K) == pytest.approx(2.36, abs=0.005)


@pytest.mark.parametrize(("per_7", "per_10"), [(1.40, 1.62), (2.0, 2.69)])
def test_ives_per_seven_degrees(per_7, per_10):
    """H. E. Ives, Airplane Photography (1920): pyro-metol 1.40, chlorhydroquinone 2.0."""
    ln_per_K = craft.ln_per_K_from_ratio(per_7, 7.0)
    assert craft.ratio_from_ln_per_K(ln_per_K, 10.0) == pytest.approx(per_10, abs=0.005)


@pytest.mark.parametrize(("bath_degC", "printed_s"), [(9.0, 926.0), (29.0, 166.0)])
def test_wall_goes_on_outside_the_tested_range(bath_degC, printed_s):
    """Worked from Wall's own two appearances: 6 min at 20 degC is 15:26 at 9 degC, and 2:46 at 29."""
    rate = craft.CoefficientRate(math.log(2.36) / 10, 20.0, 13.0, 25.0)
    by_wall = 360.0 * (70 / 25) ** ((20.0 - bath_degC) / 12)
    assert craft.time_left(rate, 360.0, bath_degC) == pytest.approx(by_wall, rel=2e-3)
    assert craft.time_left(rate, 360.0, bath_degC) == pytest.approx(printed_s, abs=0.6)


@pytest.mark.parametrize("seed", range(20))
def test_table_interpolation_is_scipys_pchip(seed):
    """scipy.interpolate.PchipInterpolator, on random tables; floating point only."""
    dice = random.Random(seed)
    count = dice.randint(2, 12)
    xs = np.cumsum([dice.uniform(0.2, 4) for _ in range(count)])
    ys = np.cumsum([dice.uniform(-1, 2) for _ in range(count)])
    ours = monotone_curve([(float(x), float(y)) for x, y in zip(xs, ys, strict=True)])
    theirs = PchipInterpolator(xs, ys)
    for x in np.linspace(xs[0], xs[-1], 97):
        assert ours.at(float(x)) == pytest.approx(float(theirs(x)), abs=1e-10)
        assert ours.slope_at(float(x)) == pytest.approx(float(theirs(x, 1)), abs=1e-9)


def smooth_bath(dice):
    start, room = dice.uniform(14, 24), dice.uniform(8, 28)
    constant_s, swing_K, period_s = dice.uniform(300, 4000), dice.uniform(0, 1), dice.uniform(60, 400)

    def bath(time_s):
        return room + (start - room) * math.exp(-time_s / constant_s) + swing_K * math.sin(time_s / period_s)

    return bath


def stepped_bath(dice, length_s):
    """A bath with fresh water poured in now and then: sudden steps between calm stretches."""
    steps_s = sorted(dice.uniform(5, length_s - 5) for _ in range(dice.randint(1, 4)))
    levels = [dice.uniform(15, 23)]
    for _ in steps_s:
        levels.append(min(25.0, max(13.0, levels[-1] + dice.uniform(-2, 2))))
    return (lambda time_s: levels[sum(time_s >= step for step in steps_s)]), steps_s


@pytest.mark.parametrize("rate", [RATE, TABLE])
def test_equivalent_time_of_two_hundred_traces_is_quads(rate):
    """scipy.integrate.quad of the rate, one reading a second, 240 s to 900 s: within 1e-3."""
    dice = random.Random(11)
    worst = 0.0
    for number in range(200):
        length_s = dice.randint(240, 900)
        bath, steps_s = (smooth_bath(dice), []) if number % 2 else stepped_bath(dice, length_s)
        trace = [(float(t), bath(t)) for t in range(length_s + 1)]
        corners = sorted({0.0, *steps_s, float(length_s)})
        true_s = sum(
            quad(lambda t, bath=bath: craft.running_rate(rate, bath(t)), a, b - 1e-9, limit=200, epsrel=1e-7)[
                0
            ]
            for a, b in pairwise(corners)
        )
        worst = max(worst, abs(craft.equivalent_time(rate, trace) / true_s - 1))
    assert worst < 1e-3


def test_equivalent_time_is_the_trapezoids_own_definition():
    """numpy.trapezoid of the same rates at uneven times: within 1e-9."""
    dice = random.Random(12)
    for _ in range(200):
        times = np.cumsum([dice.uniform(0.01, 5) for _ in range(dice.randint(2, 400))])
        bath = smooth_bath(dice)
        trace = [(float(t), bath(t)) for t in times]
        rates = [craft.running_rate(RATE, degC) for _, degC in trace]
        assert craft.equivalent_time(RATE, trace) == pytest.approx(
            float(np.trapezoid(rates, times)), rel=1e-9
        )


@pytest.mark.parametrize("seed", range(5))
def test_equivalent_time_of_a_cooling_tray_is_solve_ivps(seed):
    """scipy.integrate.solve_ivp of tray and development together (Newton's law), one reading a second."""
    dice = random.Random(seed)
    start, room, constant_s = dice.uniform(18, 24), dice.uniform(14, 22), dice.uniform(600, 3000)

    def both(_, state):
        return [-(state[0] - room) / constant_s, RATE.rate(state[0])]

    solved = solve_ivp(both, (0, 480), [start, 0.0], rtol=1e-9, atol=1e-9)
    trace = [(float(t), room + (start - room) * math.exp(-t / constant_s)) for t in range(481)]
    assert craft.equivalent_time(RATE, trace) == pytest.approx(solved.y[1][-1], rel=1e-5)


@pytest.mark.parametrize("seed", range(5))
def test_time_left_along_a_cooling_tray_is_solve_ivps_event(seed):
    """scipy.integrate.solve_ivp stopped by the event "target reached"; forecast fitted to exact readings."""
    dice = random.Random(seed)
    start, room, constant_s = dice.uniform(18, 24), dice.uniform(14, 22), dice.uniform(600, 3000)

    def both(_, state):
        return [-(state[0] - room) / constant_s, RATE.rate(state[0])]

    def reached(_, state):
        return state[1] - 300

    reached.terminal = True  # type: ignore[attr-defined] # how scipy is told to stop there
    begun = room + (start - room) * math.exp(-120 / constant_s)
    solved = solve_ivp(both, (0, 3000), [begun, 0.0], events=reached, rtol=1e-9, atol=1e-9)
    drift = craft.fit_drift(
        [(float(t), room + (start - room) * math.exp(-t / constant_s)) for t in range(121)], room
    )
    # 0.2 %: the fit leans a little on the usual tray
    assert craft.time_left_along(RATE, 300, drift, 120.0) == pytest.approx(solved.t_events[0][0], rel=2e-3)
