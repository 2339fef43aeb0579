"""The belief of a box and its advice: what each kind of evidence does to it."""

import math
from dataclasses import replace

import pytest

from firmware_py.craft.belief import PlateEvidence, Prior, advise, believe
from firmware_py.craft.refusal import Refused

PRIOR = Prior(usual_s=300.0, reference_degC=18.0)
TRIED = PlateEvidence(exposure_stops=0.0, developed_s=300.0, bath_degC=18.0, fog="none")


def after(contrast, density, **known):
    return believe([replace(TRIED, contrast=contrast, density=density, **known)], PRIOR)


def chance_of(belief, name):
    return sum(cause.chance for cause in belief.diagnosis().causes if cause.name == name)


def test_no_plate_at_all_leaves_the_prior():
    belief = believe([], PRIOR)
    assert belief.speed_stops.value == pytest.approx(0, abs=0.2)
    assert belief.speed_stops.doubt > 1.2
    assert 0.1 < advise(belief).chance < 0.6
    with pytest.raises(Refused, match="no plate yet"):
        belief.diagnosis()


def test_a_plate_of_which_nothing_is_known_changes_nothing():
    belief = believe([PlateEvidence()], PRIOR)
    prior = believe([], PRIOR)
    assert belief.speed_stops.value == pytest.approx(prior.speed_stops.value, abs=0.05)
    assert belief.gamma_inf.value == pytest.approx(prior.gamma_inf.value, abs=0.05)


def test_the_same_evidence_gives_the_same_advice():
    plates = [replace(TRIED, contrast="hard", density="thin", appeared_s=40.0 + n) for n in range(5)]
    believe.__globals__["_believe"].cache_clear()
    first = advise(believe(plates, PRIOR), bath_degC=20.0)
    believe.__globals__["_believe"].cache_clear()
    assert advise(believe(plates, PRIOR), bath_degC=20.0) == first


def test_a_thin_hard_plate_wants_light_and_a_dense_hard_one_less_time():
    thin, dense = advise(after("hard", "thin")), advise(after("hard", "dense"))
    assert thin.exposure_stops > dense.exposure_stops
    assert thin.developed_s < 300
    assert dense.developed_s < 300
    assert chance_of(after("hard", "dense"), "over-developed") > 0.7


def test_severity_counts():
    """Issue 15, number 16: rather thin is less than thin, rather hard less than hard, and so on."""
    speeds = [
        after("right", word).speed_stops.value
        for word in ("thin", "rather thin", "right", "rather dense", "dense")
    ]
    assert speeds == sorted(speeds)
    times = [
        advise(after(word, "right")).developed_s
        for word in ("hard", "rather hard", "right", "rather flat", "flat")
    ]
    assert times == sorted(times)
    assert times[-1] > 1.5 * times[0]


def test_heavy_fog_is_named_and_does_not_lengthen_development():
    """Issue 15, number 16: a dense, flat, heavily fogged plate was told to develop a third longer."""
    fogged = after("flat", "dense", fog="heavy")
    clean = after("flat", "dense")
    assert fogged.diagnosis().causes[0].name == "fogged"
    assert advise(fogged).developed_s < advise(clean).developed_s
    unjudged, right = believe([TRIED], PRIOR), after("right", "right")
    for other in (unjudged, right):
        longest_s = 1.1 * advise(other, exposure_stops=0.0).developed_s
        assert advise(fogged, exposure_stops=0.0).developed_s <= longest_s
    # The fog makes the density, so the plate is not thought as fast as a clean one that came out dense.
    assert fogged.speed_stops.value < clean.speed_stops.value - 0.2


def test_a_dense_flat_plate_asks_for_its_highlights():
    """Issue 15, number 16: over-exposed and held back looks as over-exposed on the shoulder does."""
    asked = after("flat", "dense")
    assert asked.diagnosis().question == "highlights blocked"
    blocked = after("flat", "dense", highlights_blocked=True)
    open_ = after("flat", "dense", highlights_blocked=False)
    assert chance_of(blocked, "over-exposed") > 0.8 > chance_of(open_, "over-exposed")
    assert advise(blocked).exposure_stops < advise(open_).exposure_stops
    assert advise(blocked).developed_s < advise(open_).developed_s
    assert blocked.diagnosis().question != "highlights blocked"


def test_a_thin_flat_plate_asks_for_shadow_detail():
    """Issue 15, number 16: under-developed if the shadows have detail, under-exposed if they are empty."""
    asked = after("flat", "thin")
    assert asked.diagnosis().question == "shadow detail"
    full, empty = after("flat", "thin", shadow_detail=True), after("flat", "thin", shadow_detail=False)
    assert chance_of(empty, "under-exposed") > 0.9
    assert chance_of(full, "under-exposed") < chance_of(empty, "under-exposed") - 0.2
    assert advise(empty).exposure_stops > advise(full).exposure_stops


def test_measured_densities_are_surer_than_words():
    words = after("right", "right")
    read = after("right", "right", shadow_density=0.4, highlight_density=1.45, fog_density=0.18, gamma=0.75)
    assert read.speed_stops.doubt < words.speed_stops.doubt
    assert read.gamma_inf.doubt < words.gamma_inf.doubt
    assert advise(read).chance > advise(words).chance


def test_a_late_image_is_a_slow_developer_or_little_light():
    slow = after("right", "right", appeared_s=120.0)
    quick = after("right", "right", appeared_s=20.0)
    assert slow.k_per_min.value < quick.k_per_min.value


def test_the_appearance_of_the_plate_in_the_tray_renews_its_time():
    """Three plates as ever; the fourth shows late, so it goes on longer than the plan."""
    belief = believe([replace(TRIED, contrast="right", density="right", appeared_s=40.0)] * 3, PRIOR)
    planned = advise(belief, exposure_stops=0.0)
    late = advise(belief, exposure_stops=0.0, appeared_s=70.0)
    soon = advise(belief, exposure_stops=0.0, appeared_s=25.0)
    assert soon.developed_s < planned.developed_s < late.developed_s


def test_a_warm_bath_shortens_and_equivalent_time_does_not():
    belief = believe([replace(TRIED, contrast="right", density="right")] * 2, PRIOR)
    cool, warm = advise(belief, bath_degC=18.0), advise(belief, bath_degC=23.0)
    assert warm.developed_s < 0.85 * cool.developed_s
    assert warm.equivalent_s == pytest.approx(warm.developed_s * math.exp(5 * PRIOR.ln_per_K))
    assert cool.equivalent_s == cool.developed_s


def test_a_softer_paper_wants_a_harder_negative_and_two_papers_are_easier():
    belief = after("right", "right")
    soft, hard = advise(belief, (1.27,)), advise(belief, (0.87,))
    assert soft.developed_s > hard.developed_s
    assert advise(belief, (0.87, 1.27)).chance > max(soft.chance, hard.chance) - 0.02


def test_an_earlier_box_counts_for_less():
    own = after("hard", "dense")
    earlier = after("hard", "dense", earlier_box=True)
    assert own.speed_stops.doubt < earlier.speed_stops.doubt


def test_a_speed_test_narrows_the_speed():
    tested = Prior(speed_stops=1.0, speed_doubt_stops=0.3, usual_s=300.0)
    known = believe([], tested).speed_stops
    assert known.value == pytest.approx(1.0, abs=0.1)
    assert known.doubt == pytest.approx(0.35, abs=0.1)


def test_a_print_that_came_right_tells_the_range():
    """A plate printed well on soft paper has a longer range than one printed well on hard paper."""
    soft = after(None, None, printed_log_range=1.5)
    hard = after(None, None, printed_log_range=0.7)
    assert soft.gamma_inf.value > hard.gamma_inf.value


def test_shadows_that_show_early_are_of_a_fast_plate():
    early = after(None, None, shadow_seen_s=60.0)
    late = after(None, None, shadow_seen_s=290.0)
    assert early.speed_stops.value > late.speed_stops.value


def test_one_slip_of_the_tongue_does_not_lead():
    good = [replace(TRIED, contrast="right", density="right", plate=str(n)) for n in range(6)]
    before = advise(believe(good, PRIOR))
    slipped = advise(believe([*good, replace(TRIED, contrast="flat", density="thin")], PRIOR))
    assert slipped.developed_s == pytest.approx(before.developed_s, rel=0.25)
    assert abs(slipped.exposure_stops - before.exposure_stops) <= 1.0


def test_a_new_emulsion_under_the_old_name_is_found():
    old = [
        replace(TRIED, contrast="right", density="right", appeared_s=40.0, shadow_density=0.4,
                highlight_density=1.45, fog_density=0.18, gamma=0.8)
        for _ in range(6)
    ]  # fmt: skip
    new = [
        replace(TRIED, contrast="flat", density="thin", appeared_s=130.0, shadow_density=0.19,
                highlight_density=0.55, fog_density=0.18, gamma=0.25)
        for _ in range(3)
    ]  # fmt: skip
    assert believe(old, PRIOR).change is None
    change = believe([*old, *new], PRIOR).change
    assert change is not None
    assert change.plates == 3
    assert change.chance > 0.9


@pytest.mark.parametrize(
    "wrong",
    [
        {"developed_s": 0.0},
        {"exposure_stops": math.nan},
        {"bath_degC": 300.0},
        {"contrast": "harsh"},
        {"density": "black"},
        {"fog": "some"},
        {"gamma": -1.0},
    ],
)
def test_evidence_that_no_plate_has_is_refused_by_name(wrong):
    with pytest.raises(Refused) as refused:
        PlateEvidence(plate="7", **wrong)
    assert next(iter(wrong)) in refused.value.what
    assert refused.value.where == "plate 7"


def test_advice_refuses_what_cannot_be():
    belief = believe([], PRIOR)
    with pytest.raises(Refused, match="papers"):
        advise(belief, ())
    with pytest.raises(Refused, match="appearance without an exposure"):
        advise(belief, appeared_s=40.0)
    with pytest.raises(Refused, match="bath_degC"):
        advise(belief, bath_degC=90.0)
    with pytest.raises(Refused, match="exposure_stops"):
        advise(belief, exposure_stops=99.0)


def test_an_unknown_box_is_told_what_would_teach_more_than_a_try_and_a_known_one_is_not():
    learning = advise(believe([], PRIOR)).learning
    assert learning is not None
    assert learning.chance >= learning.chance_by_try + 0.1
    words = replace(TRIED, contrast="right", density="right", gamma=0.75)
    read = replace(words, shadow_density=0.42, highlight_density=1.47, fog_density=0.18)
    known = believe([read] * 4, PRIOR)
    assert advise(known).chance > 0.8
    assert advise(known).learning is None
    # A plate that is exposed already is not asked to be another one.
    assert advise(believe([], PRIOR), exposure_stops=1.0).learning is None
