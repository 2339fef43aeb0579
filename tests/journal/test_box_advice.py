"""The book gathers the judged plates of a box, in one developer, for the craft to reckon."""

from __future__ import annotations

from math import log

import pytest
from msgspec.structs import replace

from firmware_py.craft.belief import PlateEvidence, Prior, advise, believe
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import run as ev
from firmware_py.journal.box_advice import advice_of_box, is_untested, judged_boxes
from firmware_py.journal.outcome import OutsideOutcome, outcome
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from tests.journal.making import run_entries, subject
from tests.journal.making_verdicts import DRY, PRINTED, judged_run_entries

FLAT = replace(DRY, contrast="flat", density="right")


@pytest.fixture(scope="module")
def journal(tmp_path_factory):
    with Journal.open(tmp_path_factory.mktemp("book") / "journal.db") as journal:
        journal.append(judged_run_entries(subject(1)))
        journal.append(judged_run_entries(subject(2), FLAT, readings=20))
        journal.append(judged_run_entries(subject(3), DRY, box="autumn"))
        journal.append(run_entries(subject(4)))
        yield journal


def exposed(run_id: str, plate: str) -> float | None:
    return {subject(1): 0.25, subject(2): -0.5}[run_id] if plate == "half plate 7" else None


def test_the_plates_of_the_box_alone_are_gathered_in_their_order(journal):
    told = advice_of_box(journal._connection, "SPRING 1", exposed_stops=exposed)
    assert (told.box, told.developer, told.rehearsal) == ("spring 1", "pyro-soda", True)
    first, second = told.plates
    assert (first.contrast, second.contrast) == ("hard", "flat")
    assert (first.exposed_stops, second.exposed_stops) == (0.25, -0.5)
    assert first.equivalent_s < second.equivalent_s
    assert told.correction is not None
    assert told.correction.plates == 2
    assert told.correction.stops == told.advice.exposure_stops
    assert told.more_than_last_stops == told.advice.exposure_stops + 0.5
    # The advice is that of the craft, for evidence gathered here by hand from the two runs.
    assert told.papers == (1.05,)
    assert 0.1 < told.advice.chance < 1


def test_the_advice_is_the_crafts_for_the_same_evidence(journal):
    told = advice_of_box(journal._connection, "autumn", exposed_stops=lambda *_: 0.5)
    (plate,) = told.plates
    run = outcome(RunRecord.replay(journal.read(subject(3))))
    assert run.equivalent_s is not None
    assert run.elapsed_s is not None
    assert run.rate_per_K is not None
    warmer_K = log(run.equivalent_s / run.elapsed_s) / run.rate_per_K
    prior = Prior(usual_s=run.target_s, reference_degC=run.reference_degC or 0.0, ln_per_K=run.rate_per_K)
    by_hand = PlateEvidence(
        plate="half plate 7",
        exposure_stops=0.5,
        developed_s=run.elapsed_s,
        bath_degC=prior.reference_degC + warmer_K,
        appeared_s=run.appeared_s,
        appeared_degC=prior.reference_degC,
        contrast=DRY.contrast,
        density=DRY.density,
        fog=DRY.fog,
        shadow_density=DRY.shadow_density,
        highlight_density=DRY.highlight_density,
        fog_density=DRY.fog_density,
        gamma=DRY.gamma,
    )
    assert plate.equivalent_s == run.equivalent_s
    assert told.advice == advise(believe([by_hand], prior))


def test_an_exposure_that_nobody_noted_counts_from_the_last_plate(journal):
    told = advice_of_box(journal._connection, "spring 1", exposed_stops=lambda *_: None)
    assert told.correction is None
    assert told.more_than_last_stops == told.advice.exposure_stops


def test_a_box_without_a_verdict_is_refused_with_those_that_have_some(journal):
    assert judged_boxes(journal._connection) == ["autumn", "spring 1"]
    for box, developer in (("winter", ""), ("spring 1", "amidol"), ("", "")):
        with pytest.raises(Refused, match="autumn, spring 1"):
            advice_of_box(journal._connection, box, developer)
    with pytest.raises(Refused, match="no plate"):
        advice_of_box(journal._connection, "autumn", rehearsal=False)


def test_the_faults_of_the_last_plate_are_hinted_at(tmp_path):
    with Journal.open(tmp_path / "journal.db") as journal:
        journal.append(judged_run_entries(subject(1), PRINTED))
        told = advice_of_box(journal._connection, "spring 1")
    assert [hint.partition(":")[0] for hint in told.hints] == ["slight fog", "pinholes", "stain"]


def test_a_run_far_outside_the_tested_range_is_left_out_of_advice(journal):
    """Its outcome says that it was outside, and that its time is known worse than an eye judges."""
    came = outcome(RunRecord.replay(run_entries(subject(9))))
    outside = OutsideOutcome(furthest_K=-4.0, lasted_s=300.0, low_degC=8.0, high_degC=20.0)
    near = replace(came, equivalent_s=300.0, equivalent_doubt_s=40.0, outside=outside)
    assert not is_untested(near)
    assert is_untested(replace(near, equivalent_doubt_s=60.0))
    assert not is_untested(replace(near, equivalent_doubt_s=60.0, outside=None))


def colder(entries: list[ev.Entry], by_K: float) -> list[ev.Entry]:
    """Return a run as it is, but with every temperature of its bath lower by so much."""
    return [_colder(entry, by_K) for entry in entries]


def _colder(entry: ev.Entry, by_K: float) -> ev.Entry:
    event = entry.event
    if not isinstance(event, ev.StepStarted | ev.TemperatureRead | ev.StepEnded | ev.MarkMade):
        return entry
    if event.bath_degC is None:
        return entry
    return replace(entry, event=replace(event, bath_degC=event.bath_degC - by_K))


def test_the_belief_of_a_box_does_not_rest_on_a_run_outside_the_tested_range(journal, tmp_path):
    """The plate developed 10 K below the range is counted as left out, and changes nothing of the advice."""
    alone = advice_of_box(journal._connection, "autumn", exposed_stops=lambda *_: 0.0)
    with Journal.open(tmp_path / "journal.db") as book:
        book.append(judged_run_entries(subject(1), DRY, box="autumn"))
        book.append(colder(judged_run_entries(subject(2), FLAT, box="autumn"), 15.0))
        assert is_untested(outcome(RunRecord.replay(book.read(subject(2)))))
        told = advice_of_box(book._connection, "autumn", exposed_stops=lambda *_: 0.0)
    assert (told.left_out, len(told.plates)) == (1, 1)
    assert (told.advice, told.belief) == (alone.advice, alone.belief)


def test_a_box_with_no_run_inside_the_tested_range_is_refused(tmp_path):
    with Journal.open(tmp_path / "journal.db") as book:
        book.append(colder(judged_run_entries(subject(1), DRY, box="autumn"), 15.0))
        with pytest.raises(Refused, match="OUTSIDE THE TESTED RANGE"):
            advice_of_box(book._connection, "autumn")


def test_a_run_barely_outside_is_still_evidence(tmp_path):
    with Journal.open(tmp_path / "journal.db") as book:
        book.append(colder(judged_run_entries(subject(1), DRY, box="autumn"), 5.3))
        came = outcome(RunRecord.replay(book.read(subject(1))))
        assert came.outside is not None
        told = advice_of_box(book._connection, "autumn")
    assert (told.left_out, len(told.plates)) == (0, 1)
