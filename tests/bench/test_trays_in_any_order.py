"""Whatever a person, a probe and the power do in whatever order: the book alone gives the live bench."""

from __future__ import annotations

from contextlib import suppress
from datetime import timedelta

from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from firmware_py.bench.show import show
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import SimulatedClock
from firmware_py.facts.acts import run as acts
from firmware_py.journal.run_record import RunRecord
from tests.bench.trays_at_hand import ALL, FIX, RINSE, WASH, TraysAtHand, developed, routine

ROUTINES = (
    ALL,
    routine(
        developed(ends=("appearance", "inspection"), factor=4.0, ceiling_s=320.0), RINSE, FIX, name="eye"
    ),
    routine(developed(ends=("appearance",), factor=3.0, longest_s=400.0), WASH, name="appearance"),
)
LANES = st.sampled_from([None, 1, 2, 3])
ACTS = st.one_of(
    st.builds(acts.OpenRun, plate=st.just("A"), routine=st.sampled_from([r.name for r in ROUTINES])),
    st.builds(acts.Proceed, lane=LANES),
    st.builds(acts.Mark, what=st.sampled_from(["image appears", "plate is clear", "fog"]), lane=LANES),
    st.builds(acts.TakeBackMark, lane=LANES),
    st.builds(acts.Pull, lane=LANES),
    st.builds(acts.CutShort, lane=LANES),
    st.builds(acts.ChangeWater, lane=LANES),
    st.builds(acts.SayTemperature, bath_degC=st.floats(10.0, 28.0), lane=LANES),
    st.builds(acts.TrustProbe, probe=st.just("in developer"), trusted=st.booleans()),
    st.builds(acts.Focus, lane=st.sampled_from([1, 2, 3])),
    st.builds(acts.TakeUp, lane=LANES, away_s=st.one_of(st.none(), st.floats(0.0, 900.0))),
    st.builds(acts.Abandon, lane=LANES),
)
HAPPENINGS = st.one_of(
    ACTS,
    st.floats(0.1, 90.0),
    st.sampled_from(["short", "long", "silent", "speaks", "warmer", "crash", "power cut"]),
)


def happen(at: TraysAtHand, what: object) -> TraysAtHand:
    match what:
        case float():
            at.pass_s(what)
        case "short":
            at.press(0.1)
        case "long":
            at.press(1.0)
        case "silent":
            at.baths["developer"] = lambda _: None
        case "speaks":
            at.baths["developer"] = 19.0
        case "warmer":
            at.baths["developer"] = 20.5
        case "crash" | "power cut":
            return come_back(at, anew=what == "power cut")
        case _:
            with suppress(Refused):
                at.do(what)  # type: ignore[arg-type]
    return at


def come_back(at: TraysAtHand, *, anew: bool) -> TraysAtHand:
    away_s = 47.0
    utc = at.clock.utc() + timedelta(seconds=away_s)
    start_s = 12.0 if anew else at.clock.now_s() + away_s
    clock = SimulatedClock(start_s=start_s, start_utc=utc, boot_id=None if anew else at.clock.boot_id)
    again = TraysAtHand(*ROUTINES, clock=clock, baths=at.baths)
    for record in at.records():
        if record.state != "ended":
            again.entries += at.of(record.run_id)
            again.bench.runs.resume(record)
            again._gather()
    return again


def look(at: TraysAtHand, done: dict[tuple[str, int], float]) -> None:
    """Hold what must always be so."""
    view = show(at.bench)
    assert len(view.lanes) == len(at.bench.runs.lanes)
    for lane in at.bench.runs.lanes.values():
        record = lane.record
        assert RunRecord.replay(at.of(record.run_id)) == record
        for step in record.steps:
            key = (record.run_id, step.step)
            assert step.equivalent_s >= done.get(key, 0.0)
            done[key] = step.equivalent_s
            assert step.ended_s is None or step.ended_s >= step.started_s
        open_steps = [step for step in record.steps if step.ended_s is None]
        assert len(open_steps) <= 1


@given(st.lists(HAPPENINGS, max_size=25))
@settings(max_examples=50, deadline=None, suppress_health_check=[HealthCheck.too_slow])
def test_the_book_gives_the_live_bench_whatever_happens(happenings: list[object]):
    at = TraysAtHand(*ROUTINES)
    at.do(acts.OpenRun(plate="A", routine="all"))
    at.do(acts.Proceed())
    done: dict[tuple[str, int], float] = {}
    for what in happenings:
        at = happen(at, what)
        look(at, done)
