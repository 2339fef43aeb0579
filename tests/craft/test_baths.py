"""A bath's age, area and clearing time say whether to trust a plate to it; a wash leaves what it must."""

from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.baths import bath_state
from firmware_py.craft.exhaustion import lengthened_s, plates_left, share_done
from firmware_py.craft.fixing import (
    fixer_verdict,
    fixing_time_s,
    time_in_fixer_s,
    two_bath_times_s,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.washing import (
    after_changes_g_per_l,
    changes_for_residue,
    flow_time_for_residue_s,
    in_flow_g_per_l,
    residue_g_per_m2,
    thiosulphate_g_per_l,
)

MADE = datetime(2026, 5, 1, 18, 0, tzinfo=UTC)
ML = st.floats(min_value=1, max_value=10_000)
CARRIED = st.floats(min_value=0.5, max_value=50)
STRENGTH = st.floats(min_value=0.1, max_value=500)
AREA = st.floats(min_value=20, max_value=2_000)

# --- the bath as a whole ---


def state_of(*, done_cm2=0.0, cm2_per_l=1000.0, days=0.0, keeps_days=10.0):
    return bath_state(
        volume_ml=500,
        done_cm2=done_cm2,
        cm2_per_l=cm2_per_l,
        made=MADE,
        now=MADE + timedelta(days=days),
        keeps_s=None if keeps_days is None else keeps_days * 86_400,
    )


@pytest.mark.parametrize(
    ("facts", "state"),
    [
        ({}, "good"),
        ({"done_cm2": 440}, "good"),
        ({"done_cm2": 450}, "nearly done"),
        ({"done_cm2": 500}, "used up"),
        ({"days": 8.9}, "good"),
        ({"days": 9}, "nearly done"),
        ({"days": 10}, "nearly done"),
        ({"days": 10.01}, "too old"),
        ({"days": 11, "done_cm2": 900}, "too old"),
        ({"cm2_per_l": None, "keeps_days": None, "done_cm2": 1e6, "days": 3000}, "not known"),
        ({"cm2_per_l": None}, "good"),
        ({"keeps_days": None}, "good"),
    ],
)
def test_a_bath_is_judged_by_age_and_area(facts, state):
    assert state_of(**facts).state == state


def test_only_an_old_or_used_up_bath_loses_trust():
    assert state_of(done_cm2=460).is_trusted
    assert not state_of(done_cm2=500).is_trusted
    assert not state_of(days=20).is_trusted


def test_a_bath_says_what_is_left_of_it():
    state = state_of(done_cm2=200, days=4)
    assert state.left_cm2 == pytest.approx(300)
    assert state.left_s == pytest.approx(6 * 86_400)
    assert state.age_s == 4 * 86_400


def test_a_developer_that_keeps_for_minutes_is_judged_by_the_minute():
    soon = bath_state(
        volume_ml=100,
        done_cm2=0,
        cm2_per_l=None,
        made=MADE,
        now=MADE + timedelta(minutes=30),
        keeps_s=45 * 60,
    )
    late = bath_state(
        volume_ml=100,
        done_cm2=0,
        cm2_per_l=None,
        made=MADE,
        now=MADE + timedelta(minutes=46),
        keeps_s=45 * 60,
    )
    assert (soon.state, late.state) == ("good", "too old")


def test_a_bath_from_the_future_and_half_a_time_zone_are_refused():
    with pytest.raises(Refused, match="not later"):
        state_of(days=-1)
    with pytest.raises(Refused, match="time zone"):
        bath_state(
            volume_ml=1,
            done_cm2=0,
            cm2_per_l=1,
            made=MADE,
            now=MADE.replace(tzinfo=None),
            keeps_s=1,
        )


# --- area ---


def test_only_whole_plates_count_as_left():
    assert plates_left(600, 200) == 3
    assert plates_left(599, 200) == 2
    assert plates_left(0.1 + 0.2, 0.1) == 3
    assert plates_left(0, 200) == 0
    with pytest.raises(Refused, match="above 0 cm2"):
        plates_left(10, 0)


@given(time_s=st.floats(10, 3600), percent=st.floats(0, 100), share=st.floats(0, 1), times=st.floats(1, 5))
@settings(max_examples=50)
def test_a_used_bath_takes_longer_in_proportion_to_area_and_to_fresh_time(time_s, percent, share, times):
    def one(time_s, done):
        return lengthened_s(time_s, done, 500, longer_percent=percent, every_cm2_per_l=1000)

    done = 500 * share
    assert one(time_s, 0) == time_s
    assert one(time_s, done) >= time_s
    assert one(time_s * times, done) == pytest.approx(one(time_s, done) * times)
    assert one(time_s, done) - time_s == pytest.approx(time_s * percent / 100 * share, rel=1e-9, abs=1e-9)


def test_a_bath_that_would_need_more_than_twice_its_time_is_refused():
    with pytest.raises(Refused, match="mix a new bath"):
        lengthened_s(300, 3000, 500, longer_percent=20, every_cm2_per_l=1000)


@pytest.mark.parametrize("bad", [0, -1, float("inf"), float("nan")])
def test_baths_without_capacity_or_volume_are_refused(bad):
    for call in (
        lambda: share_done(bad, 500, 0),
        lambda: share_done(1000, bad, 0),
        lambda: lengthened_s(bad, 0, 500, longer_percent=10, every_cm2_per_l=1000),
    ):
        with pytest.raises(Refused):
            call()
    with pytest.raises(Refused):
        share_done(1000, 500, -1)
    with pytest.raises(Refused):
        lengthened_s(300, 0, 500, longer_percent=101, every_cm2_per_l=1000)


# --- fixing ---


@given(clearing_s=st.floats(1, 3600))
@settings(max_examples=30)
def test_fixing_takes_twice_the_clearing_and_never_less_in_two_baths(clearing_s):
    assert fixing_time_s(clearing_s) == 2 * clearing_s
    assert two_bath_times_s(clearing_s)[0] >= fixing_time_s(clearing_s)


@pytest.mark.parametrize(
    ("clearing", "cleared_s", "expected_s"),
    [("once", 400.0, 400.0), ("twice", 400.0, 800.0), ("again", 400.0, 400.0), ("twice", 100.0, 300.0)],
)
def test_the_fixer_is_wanted_by_the_clearing_and_never_less_than_the_least(clearing, cleared_s, expected_s):
    assert time_in_fixer_s(clearing, 300.0, cleared_s) == expected_s


def test_a_plate_not_seen_clear_has_no_time_in_the_fixer_yet():
    assert time_in_fixer_s("twice", 300.0, None) is None


@pytest.mark.parametrize(
    ("clearing_s", "state"),
    [(60, "fresh"), (89, "fresh"), (90, "ageing"), (119, "ageing"), (120, "spent"), (600, "spent")],
)
def test_a_fixer_ages_at_one_and_a_half_and_is_spent_at_twice(clearing_s, state):
    verdict = fixer_verdict(clearing_s, 60)
    assert verdict.state == state
    assert verdict.times_fresh == pytest.approx(clearing_s / 60)


def test_the_thresholds_of_the_verdict_are_the_users_to_change():
    assert fixer_verdict(130, 60, spent_at=3).state == "ageing"
    assert fixer_verdict(100, 60, ageing_at=1.2, spent_at=1.5).state == "spent"
    for wrong in ({"ageing_at": 1.0}, {"ageing_at": 2.5}, {"spent_at": 1.2}, {"spent_at": float("nan")}):
        with pytest.raises(Refused, match="1 < ageing"):
            fixer_verdict(100, 60, **wrong)


@pytest.mark.parametrize("clearing_s", [0, -5, 3601, float("nan")])
def test_a_clearing_time_that_is_none_is_refused(clearing_s):
    with pytest.raises(Refused, match="to clear"):
        fixing_time_s(clearing_s)
    with pytest.raises(Refused, match="to clear"):
        fixer_verdict(60, clearing_s)
    with pytest.raises(Refused, match=r"1\.5 to 5"):
        fixing_time_s(60, times=1)


# --- washing ---


@given(strength=STRENGTH, carried=CARRIED, each=ML, changes=st.integers(0, 12))
@settings(max_examples=50)
def test_each_change_shares_what_is_left_between_plate_and_water(strength, carried, each, changes):
    before = after_changes_g_per_l(strength, carried, each, changes)
    after = after_changes_g_per_l(strength, carried, each, changes + 1)
    held_g, poured_away_g = after * carried, after * each
    assert held_g + poured_away_g == pytest.approx(before * carried, rel=1e-9)


@given(strength=STRENGTH, carried=CARRIED, each=st.floats(50, 5000), area=AREA)
@settings(max_examples=60)
def test_the_changes_reckoned_are_just_enough(strength, carried, each, area):
    changes = changes_for_residue(strength, carried, each, area)
    left = residue_g_per_m2(after_changes_g_per_l(strength, carried, each, changes), carried, area)
    assert left <= 0.014 * (1 + 1e-6)
    if changes:
        one_less = after_changes_g_per_l(strength, carried, each, changes - 1)
        assert residue_g_per_m2(one_less, carried, area) > 0.014


@given(strength=STRENGTH, carried=CARRIED, each=st.floats(50, 5000), area=AREA)
@settings(max_examples=30)
def test_twice_the_water_never_takes_more_changes(strength, carried, each, area):
    assert changes_for_residue(strength, carried, 2 * each, area) <= changes_for_residue(
        strength, carried, each, area
    )


@given(strength=STRENGTH, carried=CARRIED, tank=ML, flow=st.floats(1, 200), area=AREA)
@settings(max_examples=40)
def test_at_the_time_reckoned_the_flow_has_left_what_is_permitted(strength, carried, tank, flow, area):
    time_s = flow_time_for_residue_s(strength, carried, tank, flow, area)
    left = residue_g_per_m2(in_flow_g_per_l(strength, carried, tank, flow, time_s), carried, area)
    assert left <= 0.014 * (1 + 1e-6)
    if time_s:
        assert left == pytest.approx(0.014, rel=1e-6)


def test_the_flow_begins_where_one_change_ends():
    assert in_flow_g_per_l(60, 10, 500, 10, 0) == after_changes_g_per_l(60, 10, 500, 1)


def test_washing_that_can_not_end_is_refused():
    with pytest.raises(Refused, match="more water"):
        changes_for_residue(100, 50, 1, 100)
    for call in (
        lambda: after_changes_g_per_l(60, 0, 500, 3),
        lambda: after_changes_g_per_l(60, 10, 0, 3),
        lambda: after_changes_g_per_l(-1, 10, 500, 3),
        lambda: after_changes_g_per_l(60, 10, 500, 101),
        lambda: in_flow_g_per_l(60, 10, 500, 0, 1),
        lambda: in_flow_g_per_l(60, 10, 500, 1, -1),
        lambda: residue_g_per_m2(60, 10, 0),
        lambda: changes_for_residue(60, 10, 500, 200, permitted_g_per_m2=0),
        lambda: thiosulphate_g_per_l(-1),
    ):
        with pytest.raises(Refused):
            call()


def test_the_ends_of_a_range_belong_to_it_and_infinite_areas_to_none():
    """Mutants of these limits once lived."""
    assert fixing_time_s(3600.0, 1.5) == 5400.0
    assert fixing_time_s(3600.0, 5.0) == 18000.0
    assert fixer_verdict(60.0, 60.0, ageing_at=2.0, spent_at=2.0).state == "fresh"
    assert fixer_verdict(120.0, 60.0, ageing_at=2.0, spent_at=2.0).state == "spent"
    with pytest.raises(Refused, match=r"clearing: .*allowed: above 0 s and up to an hour"):
        fixing_time_s(3600.1)
    with pytest.raises(Refused, match=r"plate: .*allowed: above 0 cm2"):
        plates_left(100.0, float("inf"))
