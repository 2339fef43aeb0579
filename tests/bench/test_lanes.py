"""Several trays at once: each keeps its own time, and the one that needs the person most stands first."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from firmware_py.bench.show import show
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Step
from firmware_py.facts.acts import run as acts
from firmware_py.journal.run_record import RunRecord
from tests.bench.trays_at_hand import ALL, DEVELOP, RINSE, TraysAtHand, developed, routine

BY_EYE = routine(developed(ends=("inspection",), factor=5.0), RINSE, name="by eye")
BY_APPEARANCE = routine(developed(ends=("appearance",), factor=5.0), RINSE, name="by appearance")
OTHER = routine(
    replace(developed(target_s=200.0, reference_degC=18.0), bath="other developer"), RINSE, name="other"
)
BATHS: dict[str, float | Callable[[float], float | None]] = {
    "developer": lambda s: 20.5 - s / 400.0,
    "other developer": lambda s: 17.0 + s / 700.0,
}
# (seconds since the plate went in, act)
Deeds = list[tuple[float, acts.AnyAct]]


def deeds(name: str, lane: int) -> Deeds:
    """Return what a person does to a plate of that routine, by seconds since it went in."""
    known: dict[str, Deeds] = {
        "all": [(60.0, acts.Mark(what="image appears", lane=lane))],
        "by eye": [(50.0, acts.Mark(what="image appears", lane=lane)), (287.5, acts.Pull(lane=lane))],
        "by appearance": [(43.25, acts.Mark(what="image appears", lane=lane))],
        "other": [(61.0, acts.Note(text="slow to come", lane=lane))],
    }
    return known[name]


def play(plates: dict[int, tuple[str, float]]) -> dict[int, RunRecord]:
    """Develop each plate in its lane: its routine, and when it goes in; return the runs of the book."""
    at = TraysAtHand(ALL, BY_EYE, BY_APPEARANCE, OTHER, baths=BATHS)
    start_s = at.clock.now_s()
    to_do: Deeds = []
    for lane, (name, begins_s) in plates.items():
        opened = acts.OpenRun(plate=f"plate {lane}", routine=name, lane=lane)
        to_do += [(begins_s, opened), (begins_s, acts.Proceed(lane=lane))]
        to_do += [(begins_s + after_s, act) for after_s, act in deeds(name, lane)]
    for at_s, act in sorted(to_do, key=lambda deed: deed[0]):
        at.pass_s(start_s + at_s - at.clock.now_s())
        at.do(act)
    at.pass_s(900.0)
    return {int(r.opened.tray.split()[-1]): r for r in at.records()}


SIX = {
    1: ("all", 0.0),
    2: ("by eye", 10.0),
    3: ("by appearance", 10.0),
    4: ("other", 47.0),
    5: ("all", 47.5),
    6: ("by eye", 130.0),
}


def test_six_plates_together_come_to_what_each_comes_to_alone():
    """No lane loses a second, or an equivalent second, because another needs attention."""
    together = play(SIX)
    assert len(together) == 6
    for lane, plate in SIX.items():
        alone = play({lane: plate})[lane]
        first, same = together[lane].steps[0], alone.steps[0]
        assert first.why == same.why
        assert first.ended_s is not None
        assert first.ended_s == pytest.approx(same.ended_s, abs=1e-6)
        assert first.equivalent_s == pytest.approx(same.equivalent_s, rel=1e-9)
        assert [m.equivalent_s for m in together[lane].marks] == pytest.approx(
            [m.equivalent_s for m in alone.marks], rel=1e-9
        )


def test_two_developers_are_each_read_by_their_own_probe():
    runs = play({1: ("all", 0.0), 2: ("other", 0.0)})
    assert runs[1].samples[0].bath_degC == pytest.approx(20.5 - 50.0 / 400.0)
    assert runs[2].samples[0].bath_degC == pytest.approx(17.0 + 50.0 / 700.0)


def test_two_plates_in_one_tray_are_one_run_and_each_keeps_its_name():
    at = TraysAtHand()
    at.open(plate="Kvarnvik 3", others=("Kvarnvik 4", "Kvarnvik 5"))
    assert at.records()[0].plates == ("Kvarnvik 3", "Kvarnvik 4", "Kvarnvik 5")
    assert at.view().plates == at.records()[0].plates
    at.pass_s(31.0)
    assert any("Kvarnvik 3 and 2 more" in n.words for n in show(at.bench).notices)
    assert at.bench.runs.run_of("kvarnvik 4") == at.lane().record.run_id


def test_a_seventh_tray_is_refused_and_so_is_one_that_is_taken():
    at = TraysAtHand()
    for n in range(6):
        at.open(plate=f"plate {n}")
    with pytest.raises(Refused, match="all 6 trays are in use"):
        at.open(plate="one too many")
    with pytest.raises(Refused, match="tray 2 can not take a plate now"):
        at.open(plate="there", lane=2)


def test_focus_turns_only_when_a_person_turns_it():
    """Not when a tray falls due, ends, or calls."""
    at = TraysAtHand(ALL, BY_EYE)
    at.open("all", plate="A")
    at.open("by eye", plate="B")
    assert at.bench.runs.focus == 2
    at.do(acts.Focus(lane=1))
    at.pass_s(1000.0)
    assert at.view(2).state == "due"
    assert at.bench.runs.focus == 1


def test_an_act_without_a_lane_means_the_one_in_focus():
    at = TraysAtHand()
    at.open(plate="A")
    at.open(plate="B")
    at.do(acts.Focus(lane=1))
    at.do(acts.Mark(what="image appears"))
    assert [len(r.marks) for r in at.records()] == [1, 0]


def test_the_tray_that_needs_the_person_most_stands_first():
    """Over its ceiling, then one about to end, then over its time, then what goes on, ready, ended."""
    wash = routine(Step("Wash", "wash", "water", time_s=60.0, light="white"), name="wash")
    short = routine(developed(target_s=1010.0, ceiling_s=None), RINSE, name="short")
    at = TraysAtHand(ALL, BY_EYE, wash, short)
    at.do(acts.OpenRun(plate="ended", routine="wash"))
    at.do(acts.Abandon(lane=1))
    at.do(acts.OpenRun(plate="waits", routine="wash", lane=2))
    at.do(acts.Proceed(lane=2))
    at.do(acts.OpenRun(plate="calls", routine="by eye", lane=3))
    at.do(acts.Proceed(lane=3))
    at.do(acts.OpenRun(plate="ends soon", routine="short", lane=4))
    at.do(acts.Proceed(lane=4))
    at.pass_s(880.0)
    at.do(acts.OpenRun(plate="develops", routine="all", lane=5))
    at.do(acts.Proceed(lane=5))
    at.do(acts.OpenRun(plate="ready", routine="all", lane=6))
    at.pass_s(110.0)
    view = show(at.bench)
    assert [lane.plate for lane in view.lanes] == [
        "calls",
        "ends soon",
        "waits",
        "develops",
        "ready",
        "ended",
    ]
    assert view.most_urgent == 3
    assert [lane.needs for lane in view.lanes] == [
        "pull the plate: it is over its ceiling",
        "be ready: on to Rinse",
        "take the plate out",
        "",
        "plate into developer",
        "",
    ]


def test_where_nothing_is_needed_no_tray_is_most_urgent():
    at = TraysAtHand()
    at.open()
    at.pass_s(10.0)
    assert show(at.bench).most_urgent is None


def test_a_lane_that_can_not_go_on_holds_up_no_other(monkeypatch):
    """Its trouble is said; the others keep their time."""
    at = TraysAtHand()
    at.open(plate="A")
    at.open(plate="B")
    broken = at.lane(1).record

    real = at.bench.scribe.write

    def write(record, event):
        if record is broken:
            raise Refused("the book of this run is closed")
        real(record, event)

    monkeypatch.setattr(at.bench.scribe, "write", write)
    monkeypatch.setattr(at.bench.thermometers, "heard", lambda probe, word: None)
    at.pass_s(301.0)
    assert at.lane(2).record.steps[0].why == "time"
    assert any("the book of this run is closed" in n.words for n in show(at.bench).notices)


# --- the dark (interlock 2) ---

DARK = routine(replace(DEVELOP, light="dark"), replace(RINSE, light="dark"), *ALL.steps[2:], name="dark")


def test_a_plate_that_bears_no_light_puts_the_safelight_out_before_it_leaves_its_holder():
    at = TraysAtHand(ALL, DARK)
    at.do(acts.SwitchSafelight(on=True))
    at.do(acts.OpenRun(plate="pan", routine="dark"))
    assert at.switched == [("safelight", True), ("safelight", False)]
    assert show(at.bench).light_allowed == "dark"
    with pytest.raises(Refused, match="needs total darkness"):
        at.do(acts.SwitchSafelight(on=True))


def test_the_safelight_comes_back_by_a_persons_hand_once_the_plate_may_see_it():
    """Not by itself."""
    at = TraysAtHand(ALL, DARK)
    at.do(acts.SwitchSafelight(on=True))
    at.open("dark", plate="pan")
    at.pass_s(20.0)
    at.do(acts.Pull())
    at.pass_s(31.0)
    at.do(acts.Proceed())
    assert at.step() == "Fix"
    assert show(at.bench).light_allowed == "safelight"
    assert at.switched[-1] == ("safelight", False)
    at.do(acts.SwitchSafelight(on=True))
    assert at.switched[-1] == ("safelight", True)


def test_a_dark_plate_in_a_routine_of_the_safelight_bears_none_until_it_has_left_the_fixer():
    at = TraysAtHand(ALL)
    at.open("all", plate="pan", dark=True)
    assert [at.view().light_allowed, at.view().step] == ["dark", 0]
    at.do(acts.Pull())
    at.do(acts.CutShort())
    assert (at.step(), at.view().light_allowed) == ("Fix", "dark")
    at.do(acts.CutShort())
    assert (at.step(), at.view().light_allowed) == ("Wash", "white")


def test_a_dark_plate_given_up_frees_the_light():
    at = TraysAtHand(ALL, DARK)
    at.open("dark", plate="pan")
    at.do(acts.Abandon())
    at.do(acts.SwitchSafelight(on=True))
    assert at.switched[-1] == ("safelight", True)
