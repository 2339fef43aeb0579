"""Probes on the bench: several in a place, named to jacket and room, calibrated, reminded."""

from __future__ import annotations

from datetime import timedelta

import pytest

from firmware_py.bench.show import show
from firmware_py.bench.upkeep.plates import PlateRule
from firmware_py.bench.upkeep.upkeep import UpkeepPlan
from firmware_py.bench.warmth.probes import ProbeFacts
from firmware_py.craft.refusal import Refused
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.events import heat as he
from firmware_py.facts.events import run as ev
from firmware_py.facts.views.bench import ProbeView
from firmware_py.journal.probe_record import ProbeRecord
from tests.bench.upkeep_at_hand import PROBES, UpkeepAtHand

SERIAL = "28-0123456789ab"
TWO = {"left": "tray 1", "right": "tray 1", "room probe": "room"}


def bench(**facts: ProbeFacts) -> UpkeepAtHand:
    plates = PlateRule("English half plate", "home ripened", "blue")
    known = {name.replace("_", " "): fact for name, fact in facts.items()}
    return UpkeepAtHand(plan=UpkeepPlan(plates=plates, probes=known))


def reads(at: UpkeepAtHand, probe: str, degC: float) -> None:
    at.words[probe] = lambda word: Reading(degC, 0.5, word.taken_s)


def view(at: UpkeepAtHand, probe: str = "tray probe") -> ProbeView:
    return next(one for one in show(at.bench).probes if one.name == probe)


def in_ice(at: UpkeepAtHand, reading_degC: float = 0.1875) -> None:
    reads(at, "tray probe", reading_degC)
    at.pass_s(20.0)
    at.do(ua.CalibrateProbe(probe="tray probe", against="ice point"))


def test_a_probe_held_in_ice_is_corrected_from_then_on_and_says_how_good_it_is():
    at = bench(tray_probe=ProbeFacts(SERIAL))
    in_ice(at)
    reads(at, "tray probe", 20.0)
    at.pass_s(1.0)
    seen = view(at)
    assert seen.bath_degC == pytest.approx(20.0 - 0.1875)
    assert seen.tolerance_K == pytest.approx((0.1**2 + 0.0625**2) ** 0.5 + 0.01 * 19.8125)
    assert (seen.offset_K, seen.calibrated_by) == (-0.1875, "ice point")
    assert seen.calibrated_utc.startswith("2026-03-14T19:30")
    assert at.events(he.ProbeMet) == [he.ProbeMet(probe="tray probe", serial=SERIAL)]


def test_the_median_of_its_readings_counts():
    """One reading of fifteen is a quarter of a kelvin out: no harm."""
    at = bench()
    at.words["tray probe"] = lambda word: Reading(0.0 if round(word.taken_s) % 7 else 0.25, 0.5, word.taken_s)
    at.pass_s(20.0)
    at.do(ua.CalibrateProbe(probe="tray probe", against="ice point"))
    assert view(at).offset_K == 0.0


def test_a_reference_thermometer_beside_it_is_as_good_as_it_is_said_to_be():
    at = bench()
    reads(at, "tray probe", 19.5)
    at.pass_s(20.0)
    at.do(
        ua.CalibrateProbe(
            probe="tray probe", against="reference thermometer", reference_degC=20.0, tolerance_K=0.05
        )
    )
    at.pass_s(1.0)
    assert view(at).bath_degC == 20.0
    assert view(at).tolerance_K == pytest.approx((0.05**2 + 0.0625**2) ** 0.5)


def test_the_offset_of_the_settings_counts_until_the_probe_is_calibrated():
    """Then the calibration replaces it: it was found on the probe's own readings."""
    at = bench(tray_probe=ProbeFacts(SERIAL, offset_K=0.5))
    reads(at, "tray probe", 20.0)
    at.pass_s(1.0)
    assert view(at).bath_degC == 20.5
    in_ice(at)
    at.pass_s(1.0)
    assert view(at).bath_degC == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("act", "words"),
    [
        (ua.CalibrateProbe(probe="nose", against="ice point"), "no probe 'nose'; allowed: tray probe"),
        (ua.CalibrateProbe(probe="tray probe", against="reference thermometer"), "what does"),
        (ua.CalibrateProbe(probe="tray probe", against="ice point", reference_degC=4.0), "ice at 4"),
        (ua.CalibrateProbe(probe="tray probe", against="ice point"), "20.0 K out"),
    ],
)
def test_what_is_no_calibration_changes_nothing(act, words):
    at = bench()
    reads(at, "tray probe", 20.0)
    at.pass_s(20.0)
    with pytest.raises(Refused, match=words):
        at.do(act)
    assert view(at).offset_K == 0.0
    assert not at.events(he.ProbeMet)


def test_a_probe_that_says_nothing_can_not_be_calibrated():
    at = bench()
    at.words["tray probe"] = lambda word: NoReading("no wire", word.taken_s)
    at.pass_s(20.0)
    with pytest.raises(Refused, match="0 readings"):
        at.do(ua.CalibrateProbe(probe="tray probe", against="ice point"))


def test_a_calibration_is_found_again_after_a_restart_for_the_same_probe_only():
    at = bench(tray_probe=ProbeFacts(SERIAL))
    in_ice(at)
    (subject,) = {entry.subject for entry in at.entries if isinstance(entry.event, he.ProbeMet)}
    record = ProbeRecord.replay([entry for entry in at.entries if entry.subject == subject])
    same, other = bench(tray_probe=ProbeFacts(SERIAL)), bench(tray_probe=ProbeFacts("28-ffffffffffff"))
    for again in (same, other):
        again.upkeep.probes.resume(record)
    assert view(same).offset_K == -0.1875
    assert view(other).offset_K == 0.0


def test_a_year_later_it_is_time_again_but_a_clock_gone_back_ages_nothing():
    at = bench()
    in_ice(at)
    assert not view(at).calibration_is_old
    at.clock._start_utc -= timedelta(days=500)
    assert not view(at).calibration_is_old
    at.clock._start_utc += timedelta(days=500 + 366)
    at.clock.jump_to(at.clock.now_s() + 3600.0)
    at.turn()
    assert view(at).calibration_is_old
    assert "Probe tray probe was calibrated more than a year ago" in at.words_standing
    in_ice(at)
    assert "calibrated more than a year ago" not in at.words_standing


def test_two_probes_in_a_tray_time_by_their_median_and_one_may_fall_silent():
    at = UpkeepAtHand(probes=TWO, heat=None)
    reads(at, "left", 20.0)
    reads(at, "right", 20.5)
    at.pass_s(2.0)
    at.open()
    at.proceed()
    at.pass_s(10.0)
    read = [one.bath_degC for one in at.events(ev.TemperatureRead) if isinstance(one, ev.TemperatureRead)]
    assert read == [20.25] * 10
    at.words["left"] = lambda word: NoReading("no wire", word.taken_s)
    at.pass_s(10.0)
    assert "Probe left is silent: no wire. The others in the tray 1 go on" in at.words_standing
    assert at.lane.believed(at.clock.now_s()).bath_degC == 20.5
    reads(at, "left", 20.0)
    at.pass_s(2.0)
    assert "silent" not in at.words_standing


def test_two_that_differ_too_much_are_called_out():
    at = UpkeepAtHand(probes=TWO, heat=None)
    reads(at, "left", 20.0)
    reads(at, "right", 21.5)
    at.pass_s(3.0)
    assert (
        "The probes in the tray 1 differ by 1.5 K, more than they may: which is right?" in at.words_standing
    )
    reads(at, "right", 20.5)
    at.pass_s(3.0)
    assert "differ" not in at.words_standing


def test_the_room_says_where_a_tray_is_going():
    """Left alone the forecast goes to the room; while the jacket is heated, to the jacket."""
    at = UpkeepAtHand(water_degC=22.0, room_degC=12.0)
    at.pass_s(60.0)
    tray = at.bench.thermometers.of_probe("tray probe")
    assert tray.surroundings_degC == pytest.approx(12.0, abs=0.1)
    at.do(ua.SetHeat(set_degC=24.0))
    at.pass_s(60.0)
    jacket = view(at, "jacket probe").bath_degC
    assert tray.surroundings_degC == pytest.approx(jacket, abs=0.1)


def test_a_jacket_and_a_room_are_no_trays():
    """The only probe in a tray serves every tray; those elsewhere never do."""
    at = UpkeepAtHand(probes={"jacket probe": "jacket", "room probe": "room"})
    at.open()
    assert at.lane.believed(at.clock.now_s()).source == "assumed"
    assert PROBES["tray probe"] == "tray 1"
