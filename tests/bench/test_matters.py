"""Every notice is of a kind that is listed, with its cause and what to do."""

from typing import get_args

import pytest

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.matters import MATTERS, Kind
from firmware_py.bench.notices import Notices
from firmware_py.bench.show import show
from firmware_py.devices.clock import SimulatedClock


def test_each_kind_has_its_matter():
    assert set(MATTERS) == set(get_args(Kind))
    for matter in MATTERS.values():
        assert matter.says
        assert matter.cause.endswith(".")
        assert matter.to_do.endswith(".")


def test_a_notice_of_no_known_kind_can_not_be_made():
    notices = Notices()
    with pytest.raises(KeyError):
        notices.say("moonshine", "The moon shines in", 0.0)  # type: ignore[arg-type]
    assert notices.all() == []


def test_kinds_of_one_slot_replace_each_other_and_others_stand_beside():
    notices = Notices()
    notices.say("lamp", "The base is 8 s", 1.0)
    notices.say("no exposure", "No exposure: the disk is full", 2.0)
    notices.say("cue", "Kvarnvik 1: half a minute", 3.0, about=1)
    notices.say("cue", "Kvarnvik 2: half a minute", 4.0, about=2)
    assert [n.words for n in notices.all()] == [
        "No exposure: the disk is full",
        "Kvarnvik 1: half a minute",
        "Kvarnvik 2: half a minute",
    ]
    notices.clear("lamp")
    notices.clear("cue", about=1)
    assert [n.kind for n in notices.all()] == ["cue"]


def test_the_view_says_what_to_do():
    bench = Bench(BenchPlan(routines={}), SimulatedClock())
    bench.trouble("switchboard", "The switchboard was lost (killed): every relay is off")
    notice = show(bench).notices[0]
    assert notice.trouble
    assert (notice.kind, notice.cause, notice.to_do) == (
        "switchboard",
        MATTERS["switchboard"].cause,
        MATTERS["switchboard"].to_do,
    )
