"""What light an open plate got: a fold of its run, never too little after a crash."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import plate as pe
from firmware_py.facts.events import run as ev
from firmware_py.journal.plate_light import UNSEEN_S, PlateLight
from firmware_py.journal.run_record import RunRecord
from tests.journal.making import entry, run_entries, subject
from tests.journal.making_baths import lit_run_entries

A = subject(1)


def seconds(light: PlateLight, run_s: float) -> dict[str, float]:
    return {one.light: one.time_s for one in light.times(run_s)}


def test_the_light_of_a_run_is_added_up():
    record = RunRecord.replay(lit_run_entries(A))
    assert seconds(record.light, record.run_s) == {"safelight": pytest.approx(60.0)}
    assert record.plate_kind is not None
    assert record.plate_kind.area_cm2 == 199.19
    assert record.times_longer(0) == 1.05
    assert record.times_longer(2) == 1.0


@given(st.lists(st.tuples(st.sampled_from("ab"), st.booleans(), st.floats(0.0, 100.0)), max_size=30))
def test_the_sum_is_that_of_the_seconds_a_light_was_on(switches):
    """Against a plain count, second by second of each light's own state."""
    light, on, sums, now_s = PlateLight(), {"a": False, "b": False}, {"a": 0.0, "b": 0.0}, 0.0
    for name, state, wait_s in switches:
        for one, is_on in on.items():
            sums[one] += wait_s if is_on else 0.0
        now_s += wait_s
        light.fell(name, state, now_s)
        on[name] = state
    found = seconds(light, now_s)
    for one, wanted_s in sums.items():
        assert found.get(one, 0.0) == pytest.approx(wanted_s, abs=1e-6)
    assert [light.is_lit_by(one) for one in "ab"] == [on["a"], on["b"]]


@pytest.mark.parametrize(
    ("away_s", "counted_s"),
    [(5.0, 15.0), (UNSEEN_S, 10.0 + UNSEEN_S - 10.0), (10_000.0, UNSEEN_S)],
)
def test_after_a_crash_the_light_counts_until_it_would_have_been_said_again(away_s, counted_s):
    """Said at 0 s, seen at 10 s, back after a while: never less than what was seen."""
    light = PlateLight()
    light.fell("safelight", True, 0.0)
    light.interrupted(10.0, 10.0 + away_s)
    assert seconds(light, 1e6) == {"safelight": pytest.approx(counted_s)}
    assert not light.is_lit_by("safelight")


def test_a_run_that_is_over_or_resumed_gets_no_more_light():
    begun = lit_run_entries(A)[:5]
    record = RunRecord.replay(begun)
    assert record.light.is_lit_by("safelight")
    record.apply(entry(A, 6, ev.RunResumed(away_s=3.0, doubt_s=0.0, how="boot clock"), 1020.0))
    assert not record.light.is_lit_by("safelight")
    assert seconds(record.light, 9e9)["safelight"] == pytest.approx(18.0)


@pytest.mark.parametrize(
    ("event", "words"),
    [
        (pe.BathNamed(step=9, bath_id="b", bath="b"), "no step 9"),
        (pe.BathNamed(step=-1, bath_id="b", bath="b"), "while it is over"),
        (pe.BathNamed(step=0, bath_id="b", bath="b", times_longer=2.5), "2.5 times longer"),
        (pe.BathNamed(step=0, bath_id="b", bath="b", times_longer=float("nan")), "times longer"),
    ],
)
def test_a_bath_that_can_not_be_named_is_refused(event, words):
    entries = lit_run_entries(A)
    record = RunRecord.replay(entries)
    with pytest.raises(Refused, match=words):
        record.apply(entry(A, len(entries) + 1, event, entries[-1].boot_s))


def test_the_bath_of_a_step_that_is_over_may_be_named_once_and_lengthens_nothing():
    """Its time is past: only the first name counts, and it says nothing of the time."""
    record = RunRecord.replay(run_entries(A, readings=3, ended=False))
    number, boot_s = record.number, record.boot_s
    record.apply(entry(A, number + 1, ev.StepEnded(step=0, why="pulled"), boot_s))
    late = pe.BathNamed(step=0, bath_id="b", bath="b")
    longer = pe.BathNamed(step=0, bath_id="b", bath="b", times_longer=1.1)
    with pytest.raises(Refused, match="while it is over"):
        record.apply(entry(A, number + 2, longer, boot_s))
    record.apply(entry(A, number + 2, late, boot_s))
    assert record.baths[0] == late
    with pytest.raises(Refused, match="while it is over"):
        record.apply(entry(A, number + 3, pe.BathNamed(step=0, bath_id="c", bath="c"), boot_s))
