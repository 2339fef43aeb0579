"""Interlock 1: no light from the printing lamp while a plate is open."""

from __future__ import annotations

import pytest

from firmware_py.bench.interlocks.open_plate import OpenPlate, open_plates, require_no_open_plate
from firmware_py.bench.show import show
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import print as pa
from firmware_py.facts.acts import run as acts
from firmware_py.facts.acts.run import OpenRun
from firmware_py.facts.events import print as pe
from tests.bench.lamp_at_hand import LampAtHand


@pytest.fixture
def at() -> LampAtHand:
    at = LampAtHand()
    at.open_print()
    at.do(pa.SetBase(base_s=20.0))
    return at


def test_from_laying_ready_to_the_end_of_fixing_the_lamp_is_refused_naming_the_plate(at):
    """And what to do is said by where it lies, by key and by foot: no wet plate is sent back into its box."""
    at.do(acts.OpenRun(plate="Kvarnvik 3", routine="plain"))
    lane = at.bench.runs.lanes[1]
    ways_out = {
        "laid ready": "fix it first; or put it back into its box and give up its run",
        "Develop": "fix it first",
        "Rinse": "fix it first",
        "Fix": "wait until it is fixed",
    }
    for place, way_out in ways_out.items():
        with pytest.raises(Refused, match=rf"'Kvarnvik 3' is open in run 1 \({place}\)") as refused:
            at.do(pa.Expose())
        assert refused.value.allowed == way_out
        at.press()
        assert at.lit == []
        assert any("Kvarnvik 3" in n.words for n in show(at.bench).notices)
        assert "Kvarnvik 3" in show(at.bench).lamp.blocked
        if lane.is_developing:
            at.do(acts.Pull())
            continue
        if lane.record.state == "running":
            at.pass_s(301.0)
        at.do(acts.Proceed())
    assert lane.record.state == "ended"
    assert show(at.bench).lamp.blocked == ""
    at.press()
    assert at.is_lit


def test_a_plate_in_its_wash_bears_light_and_one_between_two_fixers_does_not(at):
    """Its last fixer is what counts, not its first, nor the end of its run."""
    at.do(acts.OpenRun(plate="Kvarnvik 3", routine="fixed-twice"))
    lanes = at.bench.runs.lanes
    places = []
    while found := open_plates(lanes.values()):
        places.append(found[0].place)
        if lanes[1].record.state == "running":
            at.pass_s(301.0)
        at.do(acts.Proceed())
    assert places == ["laid ready", "Fix", "Rinse", "Second fixer"]
    assert lanes[1].record.plan(lanes[1].here).name == "Wash"
    at.press()
    assert at.is_lit


def test_the_refusal_names_the_plate_its_tray_and_the_way_out():
    """Of the first, where there are more."""
    with pytest.raises(Refused) as refused:
        require_no_open_plate(
            [OpenPlate("Kvarnvik 3", 2, "Fix", "fixing"), OpenPlate("Kvarnvik 4", 3, "Rinse", "wet")]
        )
    assert str(refused.value) == (
        "interlock 1: the printing lamp stays off while plate 'Kvarnvik 3' is open in run 2 (Fix); "
        "allowed: wait until it is fixed"
    )
    require_no_open_plate([])


def test_a_plate_laid_open_under_a_lit_lamp_puts_it_out_first(at):
    """The stop goes out before the book hears of the plate, and the half exposure is kept."""
    at.press()
    at.pass_s(5.0)
    at.do(acts.OpenRun(plate="Kvarnvik 3", routine="plain"))
    assert not at.is_lit
    assert at.lit[0].lasted_s == pytest.approx(5.0)
    ended = [e for e in at.events() if isinstance(e, pe.ExposureEnded)]
    assert ended[0].stopped_by == "plate 'Kvarnvik 3' being opened"
    assert at.record.sheets[0].owed() is not None


def test_a_plate_laid_open_under_a_lamp_that_is_kept_lit_puts_it_out_too(at):
    """Whatever it is lit for."""
    at.do(pa.ChooseLampMode(mode="kept lit"))
    at.press()
    at.pass_s(5.0)
    at.press()
    assert at.record.state == "uncovered"
    at.do(acts.OpenRun(plate="Kvarnvik 3", routine="plain"))
    assert not at.is_lit
    assert at.record.state == "dark"


def test_a_plate_that_turns_up_by_any_other_door_puts_the_lamp_out_at_the_next_look(at):
    """The watch looks at the lanes themselves, not at who opened them."""
    at.press()
    at.bench.runs.open(OpenRun(plate="Kvarnvik 3", routine="plain"), rehearsal=False)
    at.pass_s(0.1)
    assert not at.is_lit


def test_a_run_that_is_refused_leaves_the_lamp_alone(at):
    """An act that changes nothing spoils no sheet."""
    at.press()
    with pytest.raises(Refused):
        at.do(acts.OpenRun(plate="Kvarnvik 3", routine="none"))
    assert at.is_lit


def test_an_interrupted_plate_counts_as_open_until_it_is_given_up(at):
    """Nobody has said that it is in its box."""
    at.do(acts.OpenRun(plate="Kvarnvik 3", routine="plain"))
    at.do(acts.Proceed())
    run_id = at.bench.runs.lanes[1].record.run_id
    again = LampAtHand()
    from firmware_py.journal.run_record import RunRecord

    again.bench.runs.resume(RunRecord.replay([e for e in at.entries if e.subject == run_id]))
    again.open_print()
    again.do(pa.SetBase(base_s=2.0))
    with pytest.raises(Refused, match=r"\(interrupted\)"):
        again.do(pa.Expose())
    again.do(acts.Abandon())
    again.do(pa.Expose())
    assert again.is_lit


def test_paper_in_its_baths_is_no_open_plate(at):
    """It may lie in the developer while the next sheet is exposed."""
    at.do(acts.OpenRun(plate="a print", routine="contact-paper"))
    at.do(acts.Proceed())
    at.press()
    assert at.is_lit


def refused_words(at: LampAtHand) -> list[str]:
    return [notice.words for notice in show(at.bench).notices if notice.kind == "foot refused"]


def test_what_was_refused_to_the_foot_goes_with_its_cause(at):
    """It stays while the plate is open, whatever else is done, and is gone once it is fixed."""
    at.do(acts.OpenRun(plate="Kvarnvik 3", routine="plain"))
    at.press()
    at.do(acts.Proceed())
    at.do(acts.Note(text="a note"))
    at.pass_s(1.0)
    assert any("interlock 1" in words for words in refused_words(at))
    at.do(acts.Abandon())
    assert refused_words(at) == []


def test_what_was_refused_to_the_foot_goes_with_the_next_thing_done(at, monkeypatch):
    """A refusal that no interlock stands behind tells of one moment only."""

    def refuse(press: object) -> None:
        if press is not None:
            raise Refused("too soon after the last exposure", where="lamp")

    monkeypatch.setattr(at.bench._tray_foot, "pressed", refuse)
    at.do(pa.ServeFoot(to="trays"))
    at.press()
    assert refused_words(at) == ["lamp: too soon after the last exposure"]
    at.do(pa.SetBase(base_s=10.0))
    assert refused_words(at) == []
