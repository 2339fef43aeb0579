"""The book gathers the judged plates of a box, in one developer, for the craft to reckon."""

from __future__ import annotations

from math import sqrt

import pytest
from msgspec.structs import replace

from firmware_py.craft.refusal import Refused
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
    first, second = told.tried
    assert (first.contrast, second.contrast) == ("hard", "flat")
    assert first.equivalent_s < second.equivalent_s
    assert (first.density_range, first.shadow_over_fog) == pytest.approx((1.5, 0.27))
    assert first.gamma == 1.1
    # Hard and rather dense: a quarter shorter; flat and right: a third longer.
    wanted = sqrt(first.equivalent_s * 0.75 * second.equivalent_s * 1.35)
    assert told.advice.equivalent_s.value == pytest.approx(wanted)
    # Half way between hard, right (+1/3) and hard, dense (0); flat, right: -1/3.
    correction = ((0.25 + 1 / 6) + (-0.5 - 1 / 3)) / 2
    assert told.advice.correction_stops is not None
    assert told.advice.correction_stops.value == pytest.approx(correction)
    assert told.advice.exposure_stops == pytest.approx(correction + 0.5)


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
