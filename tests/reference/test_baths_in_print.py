"""Fixing, washing and exhaustion against figures in print and a differential equation."""

import pytest
from molmass import Formula
from scipy.integrate import solve_ivp

from firmware_py.craft.exhaustion import share_done
from firmware_py.craft.fixing import fixer_verdict, fixing_time_s, two_bath_times_s
from firmware_py.craft.units import read_area_cm2, read_volume_ml
from firmware_py.craft.washing import (
    LEAST_RUNNING_S,
    PERMITTED_G_PER_M2,
    after_changes_g_per_l,
    flow_time_for_residue_s,
    in_flow_g_per_l,
    thiosulphate_g_per_l,
)


def test_one_change_of_half_a_litre_weakens_what_is_carried_by_51():
    """references.md, "Paper, fixing, washing" (worked): 10 ml of 60 g/l in 500 ml, factor 51."""
    assert 60 / after_changes_g_per_l(60, 10, 500, 1) == pytest.approx(51)


def test_fixing_takes_twice_the_time_to_clear():
    """Wall, Dictionary of Photography; The Book of Photography (seen)."""
    assert fixing_time_s(150) == 300


def test_two_fixers_take_ten_and_five_minutes():
    """Wall, Dictionary of Photography (seen)."""
    assert two_bath_times_s(120) == (600, 300)


def test_a_fixer_is_done_when_it_takes_twice_as_long():
    """Studio Light 1923, "Testing fixing baths and the rate of fixation" (seen, the sentence is cut off)."""
    assert fixer_verdict(120, 60).state == "spent"
    assert fixer_verdict(119, 60).state != "spent"


def test_the_permitted_residue_and_the_half_hour():
    """ISO 18917 practice, 0.014 g/m² (seen); running water 30 min at least, handbooks (seen)."""
    assert (PERMITTED_G_PER_M2, LEAST_RUNNING_S) == (0.014, 30 * 60)


def test_the_share_of_thiosulphate_in_hypo_agrees_with_molmass():
    """Tolerance 2e-4: abridged atomic weights."""
    share = Formula("S2O3").mass / Formula("Na2S2O3(H2O)5").mass
    assert thiosulphate_g_per_l(250) == pytest.approx(250 * share, rel=2e-4)


def test_the_flow_is_that_of_a_stirred_tank_integrated():
    """scipy.integrate.solve_ivp on dm/dt = -Q·c with c = m/(V + v); relative tolerance 1e-9."""
    strength, carried, tank, flow = 113.0, 12.0, 2000.0, 25.0
    mass_mg = strength * carried
    end = solve_ivp(
        lambda _, m: [-flow * m[0] / (tank + carried)], (0, 900), [mass_mg], rtol=1e-11, atol=1e-14
    ).y[0, -1]
    assert in_flow_g_per_l(strength, carried, tank, flow, 900) == pytest.approx(
        end / (tank + carried), rel=1e-9
    )


def test_the_time_in_a_flow_is_found_by_the_same_integration():
    """The event of solve_ivp where 0.014 g/m² is left on 199 cm²; tolerance 1e-6."""
    strength, carried, tank, flow, area = 113.0, 12.0, 2000.0, 25.0, 199.0
    permitted_g_per_l = PERMITTED_G_PER_M2 * area / 1e4 / (carried / 1000)

    def reached(_, c):
        return c[0] - permitted_g_per_l

    start = strength * carried / (tank + carried)
    found = solve_ivp(
        lambda _, c: [-flow * c[0] / (tank + carried)],
        (0, 5000),
        [start],
        events=reached,
        rtol=1e-11,
        atol=1e-14,
    )
    assert flow_time_for_residue_s(strength, carried, tank, flow, area) == pytest.approx(
        found.t_events[0][0], rel=1e-6
    )


@pytest.mark.parametrize(
    ("printed", "half_plates_in_a_litre"),
    [("30 in2", 9.7), ("300 in2", 97.2)],
)
def test_exhaustion_as_ives_prints_it_in_half_plates(printed, half_plates_in_a_litre):
    """H. E. Ives, Airplane Photography, 1920 (seen): pyro-metol 30, chlorhydroquinone 300 square inches in
    100 cc. An English half plate is 4 3/4 x 6 1/2 in; its number to a litre worked by hand, three figures.
    """
    cm2_per_l = read_area_cm2(printed, where="print") / read_volume_ml("100 cc", where="print") * 1000
    half_plate = read_area_cm2("4 3/4 x 6 1/2 in", where="plate")
    assert 1 / share_done(cm2_per_l, 1000, half_plate) == pytest.approx(half_plates_in_a_litre, abs=0.05)
