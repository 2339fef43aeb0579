"""The fold: a run is what its events say, in order, and nothing impossible gets in."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Development, Routine, Step
from firmware_py.facts.events import run as ev
from firmware_py.journal.outcome import outcome
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.run_states import KEEPS_STATE, TRANSITIONS
from firmware_py.journal.seen import appeared_s, cleared_before_s, cleared_s

LN_PER_K = math.log(2.36) / 10
ROUTINE = Routine(
    name="tray",
    title="In a tray",
    source="own",
    steps=(
        Step(
            name="Develop",
            kind="develop",
            bath="developer",
            development=Development(
                target_s=360.0, reference_degC=20.0, low_degC=13.0, high_degC=25.0, ln_per_K=LN_PER_K
            ),
        ),
        Step(name="Fix", kind="fix", bath="hypo", time_s=600.0),
    ),
)


class Writer:
    """Numbers and stamps entries of one run as a bench would."""

    def __init__(self, boot_id: str = "a") -> None:
        self.entries: list[ev.Entry] = []
        self.boot_id = boot_id

    def __call__(self, boot_s: float, event: ev.AnyEvent) -> ev.Entry:
        entry = ev.Entry(
            subject="run",
            number=len(self.entries) + 1,
            boot_id=self.boot_id,
            boot_s=boot_s,
            utc="2026-03-01T20:00:00.000+00:00",
            event=event,
        )
        self.entries.append(entry)
        return entry


def opened(write: Writer, boot_s: float = 100.0) -> RunRecord:
    return RunRecord.begin(
        write(boot_s, ev.RunOpened(plate="Kvarnvik 3", tray="tray 1", routine=ROUTINE, rehearsal=False))
    )


def started(bath_degC: float = 20.0, step: int = 0) -> ev.StepStarted:
    return ev.StepStarted(step=step, bath_degC=bath_degC, tolerance_K=0.5, source="probe")


def read(bath_degC: float) -> ev.TemperatureRead:
    return ev.TemperatureRead(bath_degC=bath_degC, tolerance_K=0.5, source="probe")


def test_equivalent_time_is_the_trapezoid_of_the_rate_over_the_readings():
    """The fold adds what an independent sum over the same points adds."""
    write = Writer()
    record = opened(write)
    record.apply(write(110.0, started(19.0)))
    points = [(110.0, 19.0), (111.0, 19.5), (113.5, 18.25), (120.0, 21.0)]
    for boot_s, bath in points[1:]:
        record.apply(write(boot_s, read(bath)))
    record.apply(write(125.0, ev.StepEnded(step=0, why="pulled", bath_degC=21.0)))
    points.append((125.0, 21.0))

    def rate(bath: float) -> float:
        return float(2.36 ** ((bath - 20.0) / 10))

    expected = sum((t1 - t0) * (rate(b0) + rate(b1)) / 2 for (t0, b0), (t1, b1) in pairwise(points))
    assert record.development is not None
    assert record.development.equivalent_s == pytest.approx(expected, rel=1e-12)


def test_a_mark_does_not_disturb_the_equivalent_time():
    """A run with a mark between two readings comes to the same as one without."""
    totals = []
    for with_mark in (False, True):
        write = Writer()
        record = opened(write)
        record.apply(write(100.0, started(18.0)))
        if with_mark:
            record.apply(write(100.4, ev.MarkMade(what="image appears", bath_degC=18.0)))
        record.apply(write(101.0, read(19.0)))
        record.apply(write(101.0, ev.StepEnded(step=0, why="pulled", bath_degC=19.0)))
        totals.append(record.steps[0].equivalent_s)
    assert totals[1] == totals[0]


def test_time_goes_on_across_a_restart_of_the_machine():
    """A new boot clock starts elsewhere; the run's own time is carried by what the resumption says."""
    write = Writer("first boot")
    record = opened(write)
    record.apply(write(100.0, started(20.0)))
    record.apply(write(160.0, read(20.0)))
    write.boot_id = "second boot"
    record.apply(write(12.0, ev.RunResumed(away_s=90.0, doubt_s=5.0, how="person")))
    record.apply(write(22.0, read(20.0)))
    assert record.run_s == pytest.approx(160.0)
    assert record.equivalent_at(record.run_s, 20.0) == pytest.approx(160.0)
    assert record.doubt_s == 5.0


def test_an_entry_of_a_new_machine_start_is_refused_until_the_run_is_resumed():
    """Seconds of two boot clocks must never be subtracted."""
    write = Writer("first boot")
    record = opened(write)
    record.apply(write(100.0, started(20.0)))
    write.boot_id = "second boot"
    with pytest.raises(Refused, match="not resumed"):
        record.apply(write(12.0, read(20.0)))
    assert record.number == 2


@pytest.mark.parametrize(
    ("event", "words"),
    [
        (ev.StepEnded(step=0, why="time"), "cannot take StepEnded while ready"),
        (ev.StepStarted(step=1), "cannot start step 1 while 0 comes next"),
        (ev.MarkMade(what="fog"), "cannot take MarkMade while ready"),
        (ev.BenchStopped(why="x"), "cannot take BenchStopped while ready"),
    ],
)
def test_what_cannot_happen_is_refused_and_changes_nothing(event: ev.AnyEvent, words: str):
    """A refused entry leaves number, time and state as they were."""
    write = Writer()
    record = opened(write)
    before = (record.number, record.run_s, record.state)
    with pytest.raises(Refused, match=words):
        record.apply(write(105.0, event))
    assert (record.number, record.run_s, record.state) == before


def test_a_gap_in_the_numbers_is_refused():
    """Lost entries are not folded over."""
    write = Writer()
    record = opened(write)
    write(101.0, started())
    with pytest.raises(Refused, match="expected entry 2"):
        record.apply(write(102.0, read(20.0)))


def test_every_state_is_reached_and_left():
    """The table has no dead end but the end, and no state out of reach."""
    reached = {"ready", *TRANSITIONS.values()}
    left = {state for state, _ in TRANSITIONS}
    assert reached == {"ready", "running", "due", "ended"}
    assert left == reached - {"ended"}
    assert all(states <= reached for states in KEEPS_STATE.values())


def test_the_outcome_says_what_the_run_came_to():
    """A whole run in numbers, its temperatures averaged over time."""
    write = Writer()
    record = opened(write)
    record.apply(write(100.0, started(20.0)))
    record.apply(write(130.0, ev.MarkMade(what="image appears", bath_degC=20.0)))
    record.apply(write(200.0, read(20.0)))
    record.apply(write(200.0, read(22.0)))
    record.apply(write(300.0, ev.StepEnded(step=0, why="pulled", bath_degC=22.0)))
    record.apply(write(300.0, ev.StepStarted(step=1)))
    record.apply(write(900.0, ev.StepFellDue(step=1)))
    record.apply(write(905.0, ev.StepEnded(step=1, why="moved on")))
    record.apply(write(905.0, ev.RunEnded(ended="pulled")))
    came = outcome(record)
    assert (came.ended, came.elapsed_s, came.target_s) == ("pulled", 200.0, 360.0)
    assert came.rate_per_K == pytest.approx(LN_PER_K)
    assert came.bath_degC is not None
    assert (came.bath_degC.min, came.bath_degC.mean, came.bath_degC.max) == (20.0, 21.0, 22.0)
    assert came.marks[0].elapsed_s == 30.0
    assert [s.elapsed_s for s in came.steps] == [200.0, 605.0]


@given(st.lists(st.tuples(st.floats(0.01, 30.0), st.floats(5.0, 35.0)), min_size=1, max_size=30))
def test_replaying_a_run_gives_the_same_run_to_the_last_digit(steps: list[tuple[float, float]]):
    """The live record and the one read back are one and the same."""
    write = Writer()
    live = opened(write)
    live.apply(write(100.0, started(20.0)))
    now = 100.0
    for lasted, bath in steps:
        now += lasted
        live.apply(write(now, read(bath)))
    assert RunRecord.replay(write.entries) == live


# --- steps of every kind ---

ALL = replace(
    ROUTINE,
    steps=(
        *ROUTINE.steps,
        Step(name="Second fixer", kind="fix", bath="hypo 2", time_s=60.0, clearing="again"),
        Step(name="Wash", kind="wash", bath="water", time_s=300.0, changes=3, light="white"),
    ),
)


def in_fixer(write: Writer) -> RunRecord:
    record = RunRecord.begin(
        write(0.0, ev.RunOpened(plate="A", others=("B",), tray="tray 1", routine=ALL, rehearsal=False))
    )
    for boot_s, event in (
        (1.0, started()),
        (2.0, ev.MarkMade(what="image appears", bath_degC=20.0)),
        (10.0, ev.StepEnded(step=0, why="appearance", bath_degC=20.0)),
        (10.0, ev.StepStarted(step=1)),
    ):
        record.apply(write(boot_s, event))
    return record


def test_every_plate_of_a_tray_keeps_its_name():
    """One run, two plates."""
    assert in_fixer(Writer()).plates == ("A", "B")


def test_a_mark_taken_back_does_not_count_and_one_that_never_was_can_not_be():
    """The correction is an event; the mark before it stands again."""
    write = Writer()
    record = opened(write)
    record.apply(write(100.0, started()))
    record.apply(write(110.0, ev.MarkMade(what="image appears", bath_degC=20.0)))
    record.apply(write(111.0, ev.MarkTakenBack(what="image appears")))
    assert appeared_s(record, record.steps[0]) is None
    record.apply(write(140.0, ev.MarkMade(what="image appears", bath_degC=20.0)))
    assert appeared_s(record, record.steps[0]) == pytest.approx(40.0)
    with pytest.raises(Refused, match="no mark 'fog' to take back"):
        record.apply(write(150.0, ev.MarkTakenBack(what="fog")))


def test_the_second_fixer_knows_how_long_the_first_took_to_clear_the_plate():
    """By the mark in the bath before."""
    write = Writer()
    record = in_fixer(write)
    record.apply(write(190.0, ev.MarkMade(what="plate is clear")))
    assert cleared_s(record, record.steps[1]) == pytest.approx(180.0)
    record.apply(write(370.0, ev.StepEnded(step=1, why="moved on")))
    record.apply(write(370.0, ev.StepStarted(step=2)))
    assert cleared_s(record, record.steps[2]) is None
    assert cleared_before_s(record, record.steps[2]) == pytest.approx(180.0)


def test_a_step_that_fell_due_while_nobody_watched_fell_due_then():
    """Not when the bench came back to see it; and never before it began."""
    write = Writer()
    record = in_fixer(write)
    record.apply(write(700.0, ev.StepFellDue(step=1, over_s=90.0)))
    assert record.boot_s_at(record.steps[1].due_s or 0.0) == pytest.approx(610.0)


def test_the_doubt_of_a_resumption_stays_with_the_step_it_happened_in():
    """The run knows the largest; the next step begins without any."""
    write = Writer()
    record = in_fixer(write)
    write.boot_id = "second boot"
    record.apply(write(5.0, ev.RunResumed(away_s=60.0, doubt_s=20.0, how="person")))
    record.apply(write(6.0, ev.StepEnded(step=1, why="moved on")))
    record.apply(write(6.0, ev.StepStarted(step=2)))
    assert (record.doubt_s, record.steps[1].doubt_s, record.steps[2].doubt_s) == (20.0, 20.0, 0.0)


def test_the_outcome_tells_of_waters_clearing_and_a_bath_that_was_too_cold():
    """As plain numbers."""
    write = Writer()
    record = in_fixer(write)
    record.apply(write(100.0, ev.BathLeftWindow(step=1, bath_degC=9.0, low_degC=15.0, high_degC=None)))
    record.apply(write(190.0, ev.MarkMade(what="plate is clear")))
    for boot_s, event in (
        (400.0, ev.StepEnded(step=1, why="moved on")),
        (400.0, ev.StepStarted(step=2)),
        (600.0, ev.StepEnded(step=2, why="moved on")),
        (600.0, ev.StepStarted(step=3)),
        (900.0, ev.WaterChanged(step=3)),
    ):
        record.apply(write(boot_s, event))
    came = outcome(record)
    assert came.steps[1].cleared_s == pytest.approx(180.0)
    assert came.steps[1].left_window
    assert (came.steps[3].waters, came.steps[3].planned_s) == (2, 900.0)
    assert came.appeared_s == pytest.approx(1.0)
