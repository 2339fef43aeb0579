"""The storm's own parts: what a seed draws, what the observer's eyes read, and one whole session."""

from __future__ import annotations

import json
import math
import os
import sqlite3
from pathlib import Path

import pytest

from firmware_py.journal.store import Journal
from tests.faults.evidence import Span
from tests.faults.eyes.book import Line, chain_faults, developed, moments, read_book
from tests.faults.eyes.pins import is_lit, spans
from tests.faults.eyes.unsynced import can_be_lost, lose_unsynced
from tests.faults.invariants import INVARIANTS
from tests.faults.kept import chosen
from tests.faults.kinds import FAULTS
from tests.faults.plan import plan, playable
from tests.faults.report import SessionReport, Violation, table
from tests.faults.storm import played_and_judged
from tests.journal.making import notes, subject

DEVELOPMENT = {"target_s": 100.0, "reference_degC": 20.0, "low_degC": 13.0, "high_degC": 25.0}
DEVELOPMENT |= {"ln_per_K": math.log(2.0) / 10.0}
KEPT_WITH_PULLS = Path(__file__).parents[1] / "journal" / "kept" / "journal-7-pulls.db"
STEPS = {"steps": [{"kind": "develop", "development": DEVELOPMENT}]}


def line(number: int, boot_s: float, kind: str, boot_id: str = "first", **body: object) -> Line:
    return Line(number, "run", number, boot_id, boot_s, "", kind, 1, json.dumps(body), b"")


# --- what a seed draws ---


def test_a_seed_draws_the_same_sessions_again_and_another_one_others():
    assert [plan(7, n) for n in range(20)] == [plan(7, n) for n in range(20)]
    assert [plan(7, n).blows for n in range(20)] != [plan(8, n).blows for n in range(20)]


def test_every_fault_has_its_turn_alone_and_pairs_are_of_two():
    names = playable()
    alone = [plan(7, n).blows for n in range(0, 2 * len(names), 2)]
    assert sorted(blow.fault for (blow,) in alone) == sorted(names)
    assert all(len({blow.fault for blow in plan(7, n).blows}) == 2 for n in range(1, 40, 2))


def test_every_fault_says_what_may_come_of_it_and_every_invariant_is_of_the_seven():
    assert all(fault.outcome and fault.lasts_s[0] <= fault.lasts_s[1] for fault in FAULTS.values())
    assert {invariant.number for invariant in INVARIANTS} == set(range(1, 8))
    assert len({invariant.name for invariant in INVARIANTS}) == len(INVARIANTS)


# --- the observer's eyes ---


def test_light_is_read_off_the_pins_over_a_power_cut(tmp_path: Path):
    """The second machine start has a clock of its own; an end of power ends the light."""
    first, second = tmp_path / "one", tmp_path / "two"
    first.write_text("10.0 22 out 0\n11.0 22 out 1\n12.5 22 out 0\n13.0 17 out 1\n14.0 22 out 1\n")
    second.write_text("3.0 22 out 1\n4.0 22 in 0\n")
    assert spans([(first, 0.0), (second, -20.0)], 22, [15.0, math.inf]) == [
        Span(11.0, 12.5, 1),
        Span(14.0, 15.0, 1),
        Span(23.0, 24.0, 2),
    ]
    assert is_lit(first, 22)
    assert not is_lit(second, 22)


def test_outside_its_range_the_eye_counts_as_the_plan_says():
    """Worked by hand, a factor of 2 for 10 K: 10 s at 35 degC count 28.3 s by the law, 14.1 s held at 25."""
    for beyond, share in (({"beyond": "law"}, 2.0**1.5), ({"beyond": "held"}, 2.0**0.5), ({}, 2.0**0.5)):
        routine = {"steps": [{"kind": "develop", "development": DEVELOPMENT | beyond}]}
        (found,) = developed(
            [
                line(1, 0.0, "RunOpened", routine=routine),
                line(2, 0.0, "StepStarted", step=0, bath_degC=35.0),
                line(3, 10.0, "TemperatureRead", bath_degC=35.0),
            ]
        )
        assert found.equivalent_s == pytest.approx(10.0 * share)


def test_equivalent_time_is_integrated_from_the_readings_alone():
    """Worked by hand: 10 s at the reference count 10 s; 10 s at 10 K more, with a factor of 2, count 20 s."""
    lines = [
        line(1, 0.0, "RunOpened", routine=STEPS),
        line(2, 100.0, "StepStarted", step=0, bath_degC=20.0),
        line(3, 110.0, "TemperatureRead", bath_degC=20.0),
        line(4, 110.0, "TemperatureRead", bath_degC=25.0),
        line(5, 120.0, "StepEnded", step=0, why="pulled", bath_degC=30.0),
    ]
    (found,) = developed(lines)
    # 30 degC is held at the 25 degC where the rate is known to: the square root of 2.
    assert found.equivalent_s == pytest.approx(10.0 + 10.0 * math.sqrt(2.0))
    assert (found.target_s, found.ended) == (100.0, "pulled")


def test_after_a_pull_taken_back_the_same_development_goes_on_with_the_seconds_out():
    """Worked by hand, a factor of 2 for 10 K, all at the reference: 10 s in, 6 s out, 4 s in again are 20 s.

    A bath of 25 degC told of at the return makes the mean rate of the 6 s (1 + sqrt 2) / 2. What was read
    of the next bath meanwhile counts for nothing.
    """
    for told_degC, out_s in ((None, 6.0), (25.0, 3.0 * (1.0 + math.sqrt(2.0)))):
        lines = [
            line(1, 0.0, "RunOpened", routine={"steps": [*STEPS["steps"], {"kind": "rinse"}]}),
            line(2, 0.0, "StepStarted", step=0, bath_degC=20.0),
            line(3, 10.0, "StepEnded", step=0, why="pulled", bath_degC=20.0),
            line(4, 10.0, "StepStarted", step=1),
            line(5, 12.0, "TemperatureRead", bath_degC=5.0),
            line(6, 16.0, "PullTakenBack", step=0, out_s=6.0, bath_degC=told_degC),
        ]
        (going,) = developed(lines)
        assert going.ended is None
        assert going.equivalent_s == pytest.approx(10.0 + out_s)
        assert going.back_at_s == going.equivalent_s
        lines += [
            line(7, 16.0, "TemperatureRead", bath_degC=20.0),
            line(8, 20.0, "StepEnded", step=0, why="pulled", bath_degC=20.0),
        ]
        (found,) = developed(lines)
        assert found.ended == "pulled"
        assert found.equivalent_s == pytest.approx(14.0 + out_s)


def test_the_eye_agrees_with_the_bench_on_a_pull_taken_back(tmp_path: Path):
    """The kept journal of a pull taken back, of other code: its row and the eye's own integral."""
    book = read_book(KEPT_WITH_PULLS)
    backs = [
        lines for lines in book.beginning_with("RunOpened") if any(x.kind == "PullTakenBack" for x in lines)
    ]
    assert backs
    for lines in backs:
        assert book.rows["run"][lines[0].subject]["equivalent_s"] == pytest.approx(
            developed(lines)[-1].equivalent_s
        )


def test_time_in_a_run_goes_on_across_starts_of_the_machine_as_it_was_resumed():
    lines = [
        line(1, 50.0, "RunOpened"),
        line(2, 60.0, "StepStarted"),
        line(3, 5.0, "RunResumed", boot_id="second", how="person", away_s=30.0),
        line(4, 9.0, "StepEnded", boot_id="second"),
    ]
    assert [run_s for _, run_s in moments(lines)] == [0.0, 10.0, 40.0, 44.0]


def test_the_book_is_read_and_its_chain_reckoned_by_other_code_than_wrote_it(tmp_path: Path):
    path = tmp_path / "journal.db"
    with Journal.open(path, ballast_bytes=4096) as journal:
        journal.append(notes(subject(1), 1, 3))
        book = read_book(path)
    assert [x.number for x in book.subjects[subject(1)]] == [1, 2, 3]
    assert list(chain_faults(book.subjects[subject(1)])) == []
    connection = sqlite3.connect(path)
    connection.execute("DROP TRIGGER event_is_never_changed")
    connection.execute("UPDATE event SET utc = replace(utc, '2', '3') WHERE number = 2")
    connection.commit()
    connection.close()
    assert "a hash that does not follow" in next(chain_faults(read_book(path).subjects[subject(1)]))


def test_a_page_that_was_not_synced_is_lost_and_one_that_was_is_not(tmp_path: Path):
    if not can_be_lost(tmp_path):
        pytest.skip("this kernel or file system does not tell what is unsynced")
    kept, lost = tmp_path / "kept", tmp_path / "lost"
    for file in (kept, lost):
        file.write_bytes(b"x" * 4096)
    with kept.open("r+b") as file_kept:
        os.fsync(file_kept.fileno())
    assert lose_unsynced(tmp_path) == 1
    assert kept.read_bytes() == b"x" * 4096
    assert lost.read_bytes() == bytes(4096)


def test_a_violation_says_how_to_play_it_again():
    assert chosen(7, 3, ("power cut",)).replay().endswith("--seed 7 --session 3 --fault 'power cut'")
    report = SessionReport(plan(7, 3), ["power cut"])
    report.checks["every relay is off"] = 3
    report.violations.append(Violation(report.plan, "every relay is off", "the heater is still on"))
    told = "\n".join(table([report]))
    assert "python -m tests.faults --seed 7 --session 3" in told
    assert "the heater is still on" in told
    assert "power cut 1 3 1" in " ".join(told.split())


# --- one whole session ---


def test_a_session_is_played_and_judged_from_its_first_start_to_its_last():
    number = next(n for n in range(0, 400, 2) if _is_short(n))
    report = played_and_judged(plan(7, number))
    assert report.violations == []
    assert len(report.checks) > 10


def _is_short(number: int) -> bool:
    drawn = plan(7, number)
    return drawn.blows[0].fault == "half a message" and not drawn.with_screen
