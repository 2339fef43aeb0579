"""Faults on request in the rehearsal: each has its named outcome, and nothing is lost."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from firmware_py.facts.events import run as ev
from firmware_py.journal.verify import verify
from tests.bench.rehearsing import Rehearsed, play, script_of

# The shed's tray cools from 20.4 degC: six minutes at 20 degC take about 355 s.
ALONE_S = 355.0
BEGIN = (
    'at = "0 s"\nopen = { plate = "A", routine = "metol-hydroquinone" }',
    'at = "0 s"\nfoot = "press"',
)


def the_timer_went_on(done: Rehearsed) -> None:
    """Interlock 7: the development ended by time, near where it would have."""
    run = done.run("A")
    assert run["steps"][0]["ended"] == "time"
    assert run["elapsed_s"] == pytest.approx(ALONE_S, abs=10.0)
    assert run["equivalent_s"] == pytest.approx(360.0, rel=1e-6)


def probe_unplugged(done: Rehearsed) -> None:
    the_timer_went_on(done)
    assert [e.why for e in done.events(ev.ProbeFellSilent)] == ["no answer on the wire"]
    assert {e.source for e in done.events(ev.TemperatureRead)} == {"probe", "trend"}


def probe_at_85(done: Rehearsed) -> None:
    the_timer_went_on(done)
    assert "85.0 degC" in done.events(ev.ProbeFellSilent)[0].why
    assert max(e.bath_degC for e in done.events(ev.TemperatureRead)) < 21.0


def probe_comes_back(done: Rehearsed) -> None:
    the_timer_went_on(done)
    assert len(done.events(ev.ProbeFellSilent)) == len(done.events(ev.ProbeSpokeAgain)) == 1
    assert done.events(ev.TemperatureRead)[-1].source == "probe"


def probe_jumps(done: Rehearsed) -> None:
    the_timer_went_on(done)
    assert max(e.bath_degC for e in done.events(ev.TemperatureRead)) < 21.0


def probe_drifts(done: Rehearsed) -> None:
    """Said after a minute; the person holds a thermometer beside it and sets the probe aside."""
    assert [e.fault for e in done.events(ev.FaultSeen)] == ["probe rushes"]
    assert done.events(ev.ProbeSetAside) == [ev.ProbeSetAside(probe="developer probe")]
    by_hand = [e.bath_degC for e in done.events(ev.TemperatureRead) if e.source == "hand"]
    assert by_hand == [20.0]
    last = done.events(ev.TemperatureRead)[-1]
    assert last.source == "trend"
    assert last.bath_degC == pytest.approx(20.0, abs=0.5)
    assert done.run("A")["steps"][0]["ended"] == "time"


def foot_stuck(done: Rehearsed) -> None:
    """No plate is pulled by it, and it is said; released, it counts again."""
    the_timer_went_on(done)
    assert [e.fault for e in done.events(ev.FaultSeen)] == ["foot switch held"]
    assert [m["what"] for m in done.run("A")["marks"]] == ["image appears"]


def controller_killed(done: Rehearsed) -> None:
    """On the same start of the machine: exact, nobody is asked."""
    the_timer_went_on(done)
    [resumed] = done.events(ev.RunResumed)
    assert (resumed.how, resumed.doubt_s) == ("boot clock", 0.0)
    assert resumed.away_s == pytest.approx(40.0, abs=1.1)
    assert len(done.came["sessions"]) == 2
    assert len(done.events(ev.BenchStopped)) == 1  # the first had no time to say goodbye


def killed_past_the_end(done: Rehearsed) -> None:
    """It fell due while nobody watched: the plate was over its time by what it was."""
    run = done.run("A")
    assert run["steps"][0]["ended"] == "time"
    assert run["elapsed_s"] == pytest.approx(300.0 + 120.0, abs=2.0)
    assert run["equivalent_s"] > 400.0


def power_cut(done: Rehearsed) -> None:
    """By the wall clock, with its doubt."""
    [resumed] = done.events(ev.RunResumed)
    assert resumed.how == "wall clock"
    assert resumed.away_s == pytest.approx(60.0, abs=15.0)
    assert resumed.doubt_s == 30.0
    run = done.run("A")
    assert run["doubt_s"] == run["steps"][0]["doubt_s"] == 30.0
    assert run["elapsed_s"] == pytest.approx(ALONE_S, abs=10.0)


def power_cut_with_a_wrong_clock(done: Rehearsed) -> None:
    """The wall clock went back: it is not believed, the person says how long, the book says who."""
    assert any("the wall clock went back" in words for words in done.came["refused"])
    [resumed] = done.events(ev.RunResumed)
    assert (resumed.how, resumed.away_s, resumed.doubt_s) == ("person", 70.0, 8.0)
    run = done.run("A")
    assert run["doubt_s"] == 8.0
    assert run["elapsed_s"] == pytest.approx(ALONE_S, abs=12.0)


def power_cut_over_two_plates(done: Rehearsed) -> None:
    """Each is taken up by itself: one after the likely time, one after the person's."""
    resumed = {e.how: e for e in done.events(ev.RunResumed)}
    assert set(resumed) == {"wall clock", "person"}
    assert done.run("B")["steps"][1]["ended"] == "appearance"
    assert done.run("B")["equivalent_s"] == pytest.approx(5.25 * done.run("B")["appeared_s"], rel=1e-6)


CUT = 'at = "2 min"\nfault = "power cut"\naway = "60 s"'
BACK = 'when = "interrupted"\nlater = "10 s"\n'
CASES: dict[str, tuple[Callable[[Rehearsed], None], tuple[str, ...]]] = {
    "probe unplugged": (probe_unplugged, ('at = "60 s"\nfault = "probe silent"',)),
    "probe at 85 degC": (probe_at_85, ('at = "60 s"\nfault = "probe at 85 degC"',)),
    "probe comes back": (
        probe_comes_back,
        ('at = "60 s"\nfault = "probe silent"', 'at = "2 min"\nfault = "probe well"'),
    ),
    "probe jumps": (probe_jumps, ('at = "60 s"\nfault = "probe jumps"',)),
    "probe drifts": (
        probe_drifts,
        (
            'at = "60 s"\nfault = "probe drifts"',
            'at = "3 min"\nset_aside = "developer probe"',
            'at = "3 min 5 s"\ntemperature = "20 degC"',
        ),
    ),
    "foot switch stuck": (
        foot_stuck,
        (
            'at = "60 s"\nfault = "foot stuck"',
            'at = "2 min"\nfault = "foot well"',
            'at = "2 min 5 s"\nfoot = "press"',
        ),
    ),
    "controller killed": (controller_killed, ('at = "2 min"\nfault = "controller killed"\naway = "40 s"',)),
    "controller killed past the end": (
        killed_past_the_end,
        ('at = "5 min"\nfault = "controller killed"\naway = "2 min"',),
    ),
    "power cut": (power_cut, (CUT, BACK + "take_up = {}")),
    "power cut with a wrong wall clock": (
        power_cut_with_a_wrong_clock,
        (
            CUT + '\nclock_off = "-2 h"',
            BACK + "take_up = {}",
            BACK + 'take_up = { away = "70 s", doubt = "8 s" }',
        ),
    ),
    "power cut over two plates": (
        power_cut_over_two_plates,
        (
            'at = "5 s"\nopen = { plate = "B", routine = "pyro-soda-by-appearance", tray = 2 }',
            'at = "6 s"\nfoot = "press"',
            'of = "B"\nwhen = "due"\nfoot = "press"',
            'of = "B"\nwhen = "step Develop"\nlater = "40 s"\nmark = "image appears"',
            'at = "2 min 30 s"\nfault = "power cut"\naway = "60 s"',
            'of = "A"\n' + BACK + "take_up = {}",
            'of = "B"\nwhen = "interrupted"\nlater = "20 s"\ntake_up = { away = "80 s" }',
        ),
    ),
}


@pytest.mark.parametrize("fault", CASES)
async def test_each_fault_has_its_named_outcome_and_nothing_is_lost(fault: str, tmp_path: Path):
    outcome, deeds = CASES[fault]
    done = await play(tmp_path, script_of(*BEGIN, *deeds))
    outcome(done)
    assert verify(done.path).faults == []
    assert all(run["state"] != "interrupted" for run in done.came["runs"])


async def test_without_a_fault_the_plate_takes_what_the_table_reckons_with(tmp_path: Path):
    the_timer_went_on(await play(tmp_path, script_of(*BEGIN)))
