"""Interlock 6: after any start nothing is energised until a person acts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from firmware_py.bench.interlocks.safe_start import SafeStart
from firmware_py.bench.lamp.print_resume import Traces
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import print as pa
from firmware_py.facts.acts import run as acts
from firmware_py.journal.print_record import PrintRecord
from tests.bench.lamp_at_hand import RULE, LampAtHand


def test_a_bench_left_alone_energises_nothing_whatever_was_open():
    """Not even where a print was interrupted in the middle of an exposure."""
    at = LampAtHand()
    at.open_print()
    at.do(pa.SetBase(base_s=8.0))
    at.press()
    at.pass_s(3.0)
    again = LampAtHand()
    again.bench.lamp_side.resume([PrintRecord.replay(subject_of(at))], Traces())
    again.pass_s(100.0)
    assert not any(again.switchboard.is_on(relay) for relay in again.bench.relays)
    assert again.lit == []
    assert not again.bench.safe_start.may_energise
    again.do(pa.ServeFoot(to="lamp"))
    again.press()
    assert again.is_lit


def subject_of(at: LampAtHand):
    return [e for e in at.entries if e.subject == at.record.print_id]


def test_after_a_lost_switchboard_the_safelight_does_not_come_back_by_itself():
    """It fell to its safe state; a person lights it."""
    at = LampAtHand(replace(RULE, safelight="off"))
    at.do(acts.SwitchSafelight(on=True))
    at.open_print()
    at.do(pa.SetBase(base_s=8.0))
    at.press()
    at.pass_s(2.0)
    at.switchboard.lose("it died")
    at.pass_s(20.0)
    assert not at.switchboard.is_on("safelight")
    at.do(acts.SwitchSafelight(on=True))
    assert at.switchboard.is_on("safelight")


def test_what_energises_by_itself_is_refused_before_a_person_acts():
    """In words."""
    start = SafeStart()
    words = "^interlock 6: heater stays off after a start; allowed: once a person has acted$"
    with pytest.raises(Refused, match=words):
        start.require("heater")
    start.person_acted()
    start.require("heater")
    start.made_safe()
    assert start.may_energise is False
    with pytest.raises(Refused, match=words):
        start.require("heater")
