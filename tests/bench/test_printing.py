"""The session at the lamp: strip, choice, prints, burns, and what becomes of a broken-off exposure."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firmware_py.bench.lamp.print_show import show_lamp, show_print
from firmware_py.craft.lamp import Lag
from firmware_py.craft.refusal import NotNow, Refused
from firmware_py.craft.simulation import FilamentLamp
from firmware_py.facts.acts import print as pa
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import print as pe
from tests.bench.lamp_at_hand import LAG_S, RULE, LampAtHand


@pytest.fixture
def at() -> LampAtHand:
    return LampAtHand()


def expose(at: LampAtHand) -> None:
    """Press, wait until the lamp is out again."""
    at.press()
    assert at.is_lit
    at.until_dark()


def blocked(at: LampAtHand) -> str:
    return show_lamp(at.printing, at.bench.open_plates(), at.clock.now_s()).blocked


def test_a_press_lights_the_lamp_for_the_base_and_its_lag(at):
    """Eight seconds of full light take 8.05 s of a lamp that loses 0.05 s at each start."""
    at.open_print()
    at.do(pa.SetBase(base_s=8.0))
    expose(at)
    assert [lit.lasted_s for lit in at.lit] == [pytest.approx(8.0 + LAG_S)]
    outcome = at.outcome
    assert outcome.planned_s == pytest.approx(8.05)
    assert outcome.measured_s == pytest.approx(8.05)
    assert outcome.effective_s == pytest.approx(8.0)
    assert outcome.prints == 1
    assert at.record.sheets[0].ended == "finished"


def test_what_the_screen_shows_is_what_the_entries_alone_make(at):
    """Live record and replay are one."""
    strip_and_choice(at)
    at.do(pa.AddBurn(stops=0.5, place="sky"))
    expose(at)
    at.press()
    at.pass_s(0.7)
    at.foot(down=True)
    assert at.replayed() == at.record


def strip_and_choice(at: LampAtHand, method: str = "covering", place: float = 4.0) -> None:
    at.open_print()
    at.do(pa.PlanStrip(patches=7, step_stops=0.5, middle_s=8.0, method=method))  # type: ignore[arg-type]
    for _ in range(7):
        expose(at)
    at.do(pa.ChoosePatch(place=place))


@pytest.mark.parametrize("method", ["covering", "uncovering"])
def test_a_strip_leads_patch_by_patch_and_the_chosen_one_becomes_the_base(at, method):
    """The lag is made up for at every start, so the patches stand half a stop apart whatever the method."""
    strip_and_choice(at, method)
    patches = at.outcome.patches
    wanted = sorted(8.0 * 2 ** (0.5 * n) for n in range(-3, 4))
    assert sorted(p.effective_s or 0.0 for p in patches) == pytest.approx(wanted)
    assert at.record.base_s == pytest.approx(8.0)
    assert at.record.base_how == "patch"
    assert len(at.lit) == 7


@pytest.mark.parametrize(
    ("method", "now", "then"),
    [
        ("covering", "leave all of it open", "cover patch 1"),
        ("uncovering", "open patch 1 only", "open patches 1 to 2"),
    ],
)
def test_a_strip_says_what_to_do_with_the_card_now_and_after_the_exposure(at, method, now, then):
    """Before the first foot, while the first exposure goes on, and once the last one is over."""
    at.open_print()
    at.do(pa.PlanStrip(patches=2, middle_s=8.0, method=method))
    for advice, after in ((now, then), (then, "")):
        at.press()
        shown = show_print(at.printing)
        assert shown is not None
        assert shown.strip is not None
        assert (shown.strip.advice, shown.strip.advice_after) == (advice, after)
        at.until_dark()
    assert "choose a patch once the strip is developed" in at.printing.missing()


def test_a_sheet_is_shown_with_all_the_light_it_wants(at):
    """The base and its burns together, so that what it got is never more."""
    at.open_print()
    at.do(pa.SetBase(base_s=8.0))
    at.do(pa.AddBurn(stops=1.0, place="sky"))
    expose(at)
    shown = show_print(at.printing)
    assert shown is not None
    assert shown.sheet is not None
    assert (shown.sheet.given_s, shown.sheet.wanted_s) == pytest.approx((8.0, 16.0))


def test_a_place_between_two_patches_can_be_chosen(at):
    """4.5 is half-way from 4 to 5 in stops."""
    strip_and_choice(at, place=4.5)
    assert at.record.base_s == pytest.approx(8.0 * 2**0.25)


def test_three_prints_with_a_burn_and_one_stopped_half_way_and_completed(at):
    """The dose of every print is the same, though the second needed three starts."""
    strip_and_choice(at)
    at.do(pa.AddBurn(stops=0.5, place="sky"))
    at.do(pa.WantCopies(copies=3))
    for number in range(3):
        if number == 1:
            at.press()
            at.pass_s(3.0)
            at.press()
            assert not at.is_lit
            assert at.record.sheet is not None
            owed = at.record.sheet.owed()
            assert owed is not None
            assert owed.missing_s == pytest.approx(8.0 + LAG_S - 3.0)
            at.pass_s(1.0)
        expose(at)
        expose(at)
    outcome = at.outcome
    assert outcome.prints == 3
    burned = 8.0 * 2**0.5
    prints = [s for s in outcome.sheets if s.kind == "print"]
    assert [s.effective_s for s in prints] == pytest.approx([burned] * 3)
    assert [len(s.exposures) for s in prints] == [2, 3, 2]
    assert [e.ended for e in prints[1].exposures] == ["stopped", "time", "time"]
    assert prints[1].exposures[0].stopped_by == "foot"
    with pytest.raises(Refused, match="all the prints wanted are made"):
        at.do(pa.Expose())


def test_a_held_stop_gives_the_sheet_up(at):
    """A press stops; held on, it cancels."""
    at.open_print()
    at.do(pa.SetBase(base_s=8.0))
    at.press()
    at.pass_s(2.0)
    at.foot(down=True)
    assert not at.is_lit
    at.pass_s(1.0)
    at.foot(down=False)
    assert at.record.sheets[0].ended == "given up"
    at.pass_s(1.0)
    expose(at)
    assert at.outcome.effective_s == pytest.approx(8.0)


def test_a_rest_too_small_for_the_lamp_is_left_out_with_a_press(at):
    """A tenth of a second can not be given by a lamp tried down to 0.2 s; the foot says so and goes on."""
    at.open_print()
    at.do(pa.SetBase(base_s=4.0))
    at.press()
    at.pass_s(3.95)
    at.press()
    at.pass_s(1.0)
    from firmware_py.bench.lamp.lamp_foot import foot_words

    assert "too little to give" in foot_words(at.printing)[0]
    at.press()
    assert at.record.sheets[0].ended == "finished"
    assert not at.is_lit


def test_a_foot_that_comes_just_too_late_to_stop_does_not_start_the_next_exposure(at):
    """Within half a second after the lamp went out nothing is lit."""
    at.open_print()
    at.do(pa.SetBase(base_s=4.0))
    at.press()
    at.pass_s(4.05)
    at.press(0.1)
    assert not at.is_lit
    assert len(at.lit) == 1
    at.pass_s(1.0)
    at.press()
    assert at.is_lit


def test_by_foot_alone_the_lamp_is_on_as_long_as_the_foot_is_down(at):
    """Bulb: each hold adds to the dose of the sheet; beyond its ceiling the lamp goes out by itself."""
    at.open_print()
    at.do(pa.ChooseLampMode(mode="bulb"))
    at.foot(down=True)
    at.pass_s(12.0)
    assert at.is_lit
    at.foot(down=False)
    assert not at.is_lit
    at.pass_s(1.0)
    at.foot(down=True)
    at.pass_s(500.0)
    assert not at.is_lit
    assert at.bench.foot.stuck
    at.foot(down=False)
    at.do(pa.FinishSheet())
    assert [lit.lasted_s for lit in at.lit] == pytest.approx([12.0, 120.0])
    assert at.outcome.effective_s == pytest.approx(132.0 - 2 * LAG_S)
    assert [e.ended for e in at.outcome.sheets[0].exposures] == ["stopped", "ceiling"]


def test_a_lamp_kept_lit_is_not_put_out_by_the_exposures_made_under_it():
    """The hand exposes; the dose follows the light while the lamp still warms."""
    rule = replace(RULE, warm_up=((0.0, 0.5), (100.0, 1.0)))
    at = LampAtHand(rule, longest_on_s=3600.0)
    at.open_print()
    at.do(pa.ChooseLampMode(mode="kept lit"))
    at.do(pa.SetBase(base_s=60.0))
    at.press()
    assert at.is_lit
    at.pass_s(50.0)
    at.press()
    assert at.record.state == "uncovered"
    at.pass_s(30.0)
    at.foot(down=True)
    at.foot(down=False)
    sheet = at.record.sheets[0]
    owed = sheet.owed()
    assert owed is not None
    given_s = sheet.slots()[0].given_s
    # From 50 s to 80.1 s after lighting the light rises straight from 0.75 to 0.9.
    assert given_s == pytest.approx(0.5 * (0.75 + 0.75 + 30.0 / 200.0) * 30.0, abs=0.2)
    assert owed.missing_s == pytest.approx(60.0 - given_s)
    assert at.is_lit
    at.pass_s(30.0)
    at.press()
    at.pass_s(owed.missing_s)
    assert "now" in at.tunes
    at.press()
    assert at.record.sheets[0].ended == "finished"
    at.pass_s(1.0)
    at.hold()
    assert not at.is_lit


def test_a_frame_over_its_time_is_called_every_ten_seconds_and_each_call_comes_once():
    """The moment 1033.1 s lies a hair nearer to 1003.1 s than thirty: it once brought its cue for ever."""
    at = LampAtHand(longest_on_s=120.0)
    at.open_print()
    at.do(pa.SetBase(base_s=3.0))
    at.do(pa.ChooseLampMode(mode="kept lit"))
    at.do(pa.Expose())
    at.pass_s(0.1)
    at.do(pa.Expose())
    at.tunes.clear()
    at.pass_s(65.0)
    assert [tune for tune in at.tunes if tune in {"soon", "now", "overdue"}] == ["now", *["overdue"] * 6]


def test_a_lamp_kept_lit_goes_out_after_an_hour_at_the_latest():
    """And the frame counts as covered then."""
    at = LampAtHand(longest_on_s=3600.0)
    at.open_print()
    at.do(pa.ChooseLampMode(mode="kept lit"))
    at.do(pa.SetBase(base_s=3000.0))
    at.press()
    at.pass_s(1000.0)
    at.press()
    at.pass_s(3000.0)
    assert not at.is_lit
    (hand,) = at.record.sheets[0].exposures
    assert hand.why == "lamp out"
    assert hand.effective_s == pytest.approx(2600.0, abs=1.0)


def test_distance_and_paper_change_the_base_by_inverse_square_and_speed(at):
    """Twice as far, four times as long; a paper of half the speed, twice as long."""
    at.open_print(paper_speed=100.0)
    at.do(pa.SetBase(base_s=5.0))
    at.do(pa.ChangeDistance(distance_mm=1200.0))
    assert at.record.base_s == pytest.approx(20.0)
    at.do(pa.ChangePaper(paper="slow paper", paper_speed=50.0))
    assert at.record.base_s == pytest.approx(40.0)
    at.do(pa.ChangePaper(paper="unknown paper"))
    assert at.record.base_s == pytest.approx(40.0)


def test_a_program_is_kept_with_the_negative_and_found_again_at_another_distance(at):
    """Base and burns come back, the base reckoned for where the lamp is now."""
    at.open_print()
    at.do(pa.SetBase(base_s=6.0))
    at.do(pa.AddBurn(stops=1.0, place="sky"))
    expose(at)
    expose(at)
    at.do(pa.EndPrint())
    at.do(pa.OpenPrint(negative="SKARN  light", paper="contact paper", distance_mm=300.0))
    at.do(pa.UseProgram())
    assert at.record.base_s == pytest.approx(1.5)
    assert at.record.burns == [(1.0, "sky")]


def test_half_cycles_are_whole_in_every_start_of_a_strip():
    """A zero-crossing switch at 50 Hz gives multiples of 10 ms."""
    at = LampAtHand(replace(RULE, mains_Hz=50.0, lag=Lag(0.0, 0.0, 0.0)))
    strip_and_choice(at)
    for lit in at.lit:
        assert lit.lasted_s / 0.01 == pytest.approx(round(lit.lasted_s / 0.01), abs=1e-6)
    wanted = [8.0 * 2 ** (0.5 * n) for n in range(-3, 4)]
    for patch, want in zip(at.outcome.patches, wanted, strict=True):
        assert patch.effective_s == pytest.approx(want, abs=0.0051)


def test_a_strip_that_asks_the_lamp_for_too_short_a_start_is_refused_before_it_begins(at):
    """The lamp was tried down to 0.2 s."""
    at.open_print()
    with pytest.raises(Refused, match="wider steps"):
        at.do(pa.PlanStrip(patches=7, step_stops=0.1, middle_s=1.0))
    assert at.record.sheets == []


def test_the_lag_found_on_a_simulated_filament_gives_the_paper_what_was_wanted():
    """What the lamp's light really amounts to, rise and afterglow and all, is the wanted dose."""
    filament = FilamentLamp()
    at = LampAtHand(replace(RULE, lag=Lag(filament.lag_s, 0.002, 0.3)))
    strip_and_choice(at)
    real_s = [filament.effective_s(lit.lasted_s) for lit in at.lit]
    sums = [sum(real_s[: n + 1]) for n in range(7)]
    assert sums == pytest.approx([8.0 * 2 ** (0.5 * n) for n in range(-3, 4)], rel=2e-3)


def test_the_safelight_goes_out_for_the_exposure_and_comes_back():
    """As the setting wants it; a person's word in between counts."""
    at = LampAtHand(replace(RULE, safelight="off"))
    at.do(acts.SwitchSafelight(on=True))
    at.open_print()
    at.do(pa.SetBase(base_s=4.0))
    at.press()
    assert not at.switchboard.is_on("safelight")
    at.until_dark()
    assert at.switchboard.is_on("safelight")
    at.press()
    at.do(acts.SwitchSafelight(on=False))
    at.until_dark()
    assert not at.switchboard.is_on("safelight")


def test_the_strip_and_the_print_go_through_their_baths_while_the_next_is_exposed(at):
    """Paper in a tray is no open plate, and its run is linked to the sheet."""
    at.open_print()
    at.do(pa.SetBase(base_s=4.0))
    expose(at)
    waits = "Print 1 has got all its light: into the baths"
    assert waits in [notice.words for notice in at.bench.notices.all()]
    at.do(pa.BatheSheet())
    assert waits not in [notice.words for notice in at.bench.notices.all()]
    assert at.bench.runs.lanes[1].record.plate == "Skarn light, print 1"
    assert at.record.sheets[0].run_id == at.bench.runs.lanes[1].record.run_id
    expose(at)
    assert at.outcome.prints == 2
    with pytest.raises(Refused, match="for plates"):
        at.do(pa.BatheSheet(routine="plain"))


def test_no_fresh_sheet_is_exposed_while_no_run_is_free_for_it(at):
    """Before the announcement; sheets that wait for their baths count, and the page has the reason."""
    for _ in range(4):
        at.do(acts.OpenRun(plate="a sheet", routine="contact-paper"))
    at.open_print()
    at.do(pa.SetBase(base_s=4.0))
    expose(at)
    expose(at)
    before = len(at.entries)
    with pytest.raises(NotNow, match="no run is free for another sheet: 2 exposed wait") as refused:
        at.do(pa.Expose())
    assert "in the dark" in refused.value.next
    assert len(at.entries) == before
    assert blocked(at) == refused.value.line
    at.do(acts.Abandon())
    expose(at)
    assert at.outcome.prints == 3


def test_a_sheet_with_a_part_of_its_light_is_completed_though_no_run_is_free_any_more(at):
    """Half an exposure helps nobody: the burn is given, and only the next sheet is refused."""
    at.open_print()
    at.do(pa.SetBase(base_s=4.0))
    at.do(pa.AddBurn(stops=1.0, place="sky"))
    expose(at)
    for _ in range(6):
        at.do(acts.OpenRun(plate="a sheet", routine="contact-paper"))
    assert blocked(at) == ""
    expose(at)
    assert at.outcome.prints == 1
    with pytest.raises(NotNow, match="no run is free"):
        at.do(pa.Expose())


def test_a_print_is_linked_to_the_run_its_plate_came_from(at):
    """By the plate's name, where it was developed here."""
    at.do(acts.OpenRun(plate="Skarn light", routine="plain"))
    at.do(acts.Abandon())
    at.open_print()
    assert at.record.opened.run_id == at.bench.runs.lanes[1].record.run_id


def test_an_exposure_the_book_does_not_take_is_refused_and_said(at):
    """Nothing is lit that was not announced on the disk."""
    at.open_print()
    at.do(pa.SetBase(base_s=4.0))
    at.book_refuses = "the disk is full"
    at.press()
    at.pass_s(5.0)
    assert at.lit == []
    assert at.record.state == "dark"
    assert any("the disk is full" in n.words for n in at.bench.notices.all())
    at.book_refuses = ""
    expose(at)
    assert at.outcome.prints == 1


def test_a_lost_switchboard_leaves_a_half_exposure_in_the_book_and_the_rest_is_offered(at):
    """As lost as it is, the sheet is not."""
    at.open_print()
    at.do(pa.SetBase(base_s=8.0))
    at.press()
    at.pass_s(3.0)
    at.switchboard.lose("it died")
    at.pass_s(1.0)
    (half,) = at.outcome.sheets[0].exposures
    assert half.ended == "switchboard lost"
    assert half.measured_s == pytest.approx(3.0)
    expose(at)
    assert at.outcome.effective_s == pytest.approx(8.0)


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (pa.Expose(), "no print is open"),
        (pa.SetBase(base_s=1.0), "no print is open"),
        (pa.GiveVerdict(verdict="x"), "there is no print"),
        (pa.BatheSheet(), "no print is open"),
    ],
)
def test_an_act_without_a_print_is_refused_and_writes_nothing(at, act, words):
    """One line that says what to do."""
    before = len(at.entries)
    with pytest.raises(Refused, match=words):
        at.do(act)
    assert len(at.entries) == before


def test_what_the_whole_sheet_gets_can_not_change_while_it_is_half_exposed(at):
    """Refused with what is going on, and changed once the sheet is given up."""
    at.open_print()
    at.do(pa.SetBase(base_s=8.0))
    at.press()
    with pytest.raises(Refused, match="cannot set the base time while an exposure goes on"):
        at.do(pa.SetBase(base_s=9.0))
    at.do(pa.StopExposure())
    for act in (pa.SetBase(base_s=9.0), pa.ChangeDistance(distance_mm=500.0), pa.EndPrint()):
        with pytest.raises(Refused, match="while a sheet is half exposed"):
            at.do(act)
    at.do(pa.GiveUpSheet())
    at.do(pa.SetBase(base_s=9.0))
    assert at.record.base_s == 9.0


def test_an_ended_print_takes_a_verdict_and_nothing_else(at):
    """The print is judged when it is dry."""
    at.open_print()
    at.do(pa.EndPrint())
    at.do(pa.GiveVerdict(verdict="a shade too dark in the shadows"))
    assert at.last_record().verdicts == ["a shade too dark in the shadows"]
    with pytest.raises(Refused, match="no print is open"):
        at.do(pa.SetBase(base_s=2.0))
    assert isinstance(at.events()[-1], pe.VerdictGiven)
