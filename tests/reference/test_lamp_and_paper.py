"""Paper, lamp and safelight against print and against general reference libraries."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import quad, solve_ivp
from scipy.linalg import expm
from scipy.optimize import brentq

from firmware_py.craft.lamp import half_cycle_s, lag_found, light_at_voltage, time_at_distance_s
from firmware_py.craft.paper import GRADES, burn_s, dodge_s, fit, grade_of, iso_points
from firmware_py.craft.safelight import safe_s
from firmware_py.craft.simulation import WATER_J_PER_ML_K, CoolingTray, FilamentLamp, TrayOnJacket
from firmware_py.craft.strips import strip_from


def test_the_safe_time_is_that_of_the_standard():
    """ANSI IT2.26-1998, 3.14: at most half of the geometric mean of the two times.

    Worked: half of sqrt(4 min x 8 min) = 2.83 min = 169.7 s; tolerance half of the last digit given.
    """
    assert safe_s(240.0, 480.0) / 60 == pytest.approx(2.83, abs=0.005)
    assert safe_s(240.0, 480.0) == pytest.approx(169.7, abs=0.05)


def test_two_thirds_of_a_stop_run_along_the_five_series_of_preferred_numbers():
    """ISO 3, series R5: 1.00 1.60 2.50 4.00 6.30 (10.0).

    Tolerance 1 %: the series is the fifth root of ten (0.16 % below 2^(2/3)), rounded to two figures.
    """
    assert strip_from(1.0, 2 / 3, 6).times_s == pytest.approx([1.00, 1.60, 2.50, 4.00, 6.30, 10.0], rel=0.01)


def test_burns_and_dodges_are_those_of_a_printed_table():
    """R. W. Lambrecht, f/stop timing table (1999, 2005), its worked example, base 25.4 s.

    Held back for 5.2 s: a third of a stop less; 10.5 s more: half a stop. Printed to 0.1 s.
    """
    assert dodge_s(25.4, 1 / 3) == pytest.approx(5.2, abs=0.05)
    assert burn_s(25.4, 1 / 2) == pytest.approx(10.5, abs=0.05)


@pytest.mark.parametrize(("to_in", "time_s"), [(12, 45), (24, 180), (48, 720), (36, 405)])
def test_time_goes_as_the_square_of_the_distance(to_in, time_s):
    """E. J. Wall, *Dictionary of Photography*: 12 in 45 s, 24 in 180 s, 48 in 720 s.

    36 in is worked: nine times 45 s. A book prints 395 s there, which its own rule forbids.
    """
    assert time_at_distance_s(45.0, 12 * 25.4, to_in * 25.4) == pytest.approx(time_s)


@pytest.mark.parametrize(("voltage", "light"), [(0.95, 0.84), (0.88, 0.65)])
def test_the_light_of_a_filament_falls_with_the_voltage(voltage, light):
    """Light as voltage to the 3.4: 0.95 gives 0.84, 0.88 gives 0.65 (seen / worked); two figures."""
    assert light_at_voltage(voltage) == pytest.approx(light, abs=0.005)


def test_half_cycles_of_the_two_mains():
    """A zero-crossing switch waits at most 10 ms at 50 Hz, 8.3 ms at 60 Hz (seen); printed digits."""
    assert half_cycle_s(50.0) * 1000 == pytest.approx(10)
    assert half_cycle_s(60.0) * 1000 == pytest.approx(8.3, abs=0.05)


def test_the_grades_end_where_the_standard_says_and_are_six():
    """ANSI PH2.2-1966, appendix, as told in the Focal Encyclopedia, 4th ed., p. 679: 0.50 to 1.70, 0 to 5.

    The bounds between are from memory and are not checked here, only that they leave no gap.
    """
    assert sorted(GRADES) == [0, 1, 2, 3, 4, 5]
    assert (GRADES[5][0], GRADES[0][1]) == (0.50, 1.70)
    assert [GRADES[n][0] for n in range(5)] == [GRADES[n + 1][1] for n in range(5)]
    assert (grade_of(0.50), grade_of(1.70)) == (5, 0)


def test_a_good_print_comes_when_the_two_ranges_are_equal():
    """ISO 6846:1992, introduction: satisfactory when the paper's range equals the negative's."""
    assert fit(1.05, 1.05).verdict == "suits"
    assert fit(1.05, 1.05).gamma_times == 1.0


def test_the_iso_points_are_those_of_a_smooth_curve_solved_by_scipy():
    """ISO 6846 as told in the Focal Encyclopedia, p. 679: 0.04 above base and fog, and 90 % of D-max.

    A logistic curve read at steps of 0.05 in log exposure; `scipy.optimize.brentq` finds its two points.
    Tolerance 0.01: straight lines between such steps on such a curve.
    """
    fog, black = 0.06, 2.05

    def density(log_exposure: float) -> float:
        return float(fog + (black - fog) / (1 + math.exp(-6.0 * (log_exposure - 1.2))))

    curve = [(0.05 * n, density(0.05 * n)) for n in range(61)]
    points = iso_points(curve, base_fog=fog, dmax=black)
    assert points.highlight_log == pytest.approx(brentq(lambda x: density(x) - fog - 0.04, 0, 3), abs=0.01)
    assert points.shadow_log == pytest.approx(brentq(lambda x: density(x) - 0.9 * black, 0, 3), abs=0.01)


@pytest.mark.parametrize(("rise_s", "fall_s"), [(0.10, 0.04), (0.13, 0.06), (0.38, 0.19), (0.05, 0.20)])
def test_the_lag_test_finds_what_scipy_integrates(rise_s, fall_s):
    """Light rising and falling exponentially, integrated by `scipy.integrate.quad` over rise and afterglow.

    No source for the lag test itself (common practice): so the light of both patches is integrated outside.
    Tolerance 1e-4 s: what is left of the rise after a short exposure of five rise times.
    """
    rise_tau, fall_tau = rise_s / math.log(10), fall_s / math.log(10)

    def given(on: float) -> float:
        reached = 1 - math.exp(-on / rise_tau)
        lit, _ = quad(lambda t: 1 - math.exp(-t / rise_tau), 0, on, points=[rise_s], epsabs=1e-11)
        glow, _ = quad(lambda t: reached * math.exp(-t / fall_tau), 0, 40 * fall_tau, epsabs=1e-11)
        return float(lit + glow)

    lamp, short_s, starts = FilamentLamp(rise_s, fall_s), 5 * max(rise_s, fall_s), 10
    long_s = brentq(lambda on: given(on) - starts * given(short_s), 0.1, 50.0, xtol=1e-12)
    assert lag_found(long_s, short_s, starts).lag_s == pytest.approx(lamp.lag_s, abs=1e-4)
    assert lamp.effective_s(short_s) == pytest.approx(given(short_s), abs=1e-8)


def test_a_tray_cools_as_scipy_integrates_newton_s_law():
    """`scipy.integrate.solve_ivp` on dT/dt = -ln 2 / half time · (T - room); tolerance its own."""
    tray = CoolingTray(24.0, 15.5, 22.0)
    rate = math.log(2) / (22.0 * 60)
    solved = solve_ivp(lambda _, T: -rate * (T - 15.5), (0, 3600), [24.0], rtol=1e-10, atol=1e-10)
    assert tray.bath_degC(3600.0) == pytest.approx(solved.y[0, -1], abs=1e-6)


@pytest.mark.parametrize("watts", [0.0, 150.0])
def test_a_tray_on_its_jacket_goes_where_scipy_s_matrix_exponential_goes(watts):
    """`scipy.linalg.expm` on the same two cooling laws with the heater as a third, constant state."""
    body = TrayOnJacket(17.0, 21.0, 14.5, bath_ml=250.0, jacket_ml=2000.0)
    k, lb, lj = body.exchange_W_per_K, body.bath_loss_W_per_K, body.jacket_loss_W_per_K
    cb, cj = WATER_J_PER_ML_K * 250.0, WATER_J_PER_ML_K * 2000.0
    rates = np.array([[-(k + lb) / cb, k / cb, 0], [k / cj, -(k + lj) / cj, watts / cj], [0, 0, 0]])
    bath, jacket, _ = expm(rates * 777.0) @ np.array([2.5, 6.5, 1.0])
    body.advance(777.0, watts)
    assert body.bath_degC == pytest.approx(14.5 + bath, abs=1e-9)
    assert body.jacket_degC == pytest.approx(14.5 + jacket, abs=1e-9)
