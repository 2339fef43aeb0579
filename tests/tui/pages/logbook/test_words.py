"""A run of the book as a line, at both widths, and its steps as a bar."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from firmware_py.journal.outcome import outcome
from firmware_py.journal.run_record import RunRecord
from firmware_py.service.book_questions import RunLine
from tests.journal.making import run_entries, subject
from tui.pages.logbook.words import list_head, list_line, run_facts, short_verdict, steps_bar

RUN = RunLine(
    run_id=subject(1),
    plate="Kvarnvik jetty at slack water, second plate",
    box="Skarnholm ortho 3",
    routine="metol-hydroquinone",
    developer="metol-hydroquinone developer",
    rehearsal=True,
    opened_utc="2026-05-14T19:30:00+00:00",
    state="ended",
    ended="pulled",
    elapsed_s=360.0,
    equivalent_s=341.0,
    density="rather thin",
    contrast="right",
    fog="slight",
)


@pytest.mark.parametrize("width", [80, 110, 120, 160])
def test_a_line_fits_and_stands_under_its_headings(width):
    head, line = list_head(width), list_line(RUN, width)
    assert len(line) <= width
    for heading, words in (("Plate", "Kvarnvik"), ("Box", "Skarnholm"), ("Verdict", "rather thin, fog")):
        assert head.index(heading) == line.index(words)
    assert ("Developer" in head) == (width >= 110)
    assert "5:41" in line


def test_signs_and_a_rehearsal_among_real_runs():
    assert list_line(RUN, 120, here=True).startswith("► 2026-05-14")
    assert list_line(RUN, 120, kept=True).startswith("* 2026-05-14")
    short = RunLine(**{**{n: getattr(RUN, n) for n in RUN.__struct_fields__}, "plate": "B7-1"})
    assert "B7-1 (REHEARSAL)" in list_line(short, 120, among_real=True)
    assert "REHEARSAL" not in list_line(short, 120)


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"density": None, "contrast": None}, ""),
        ({"density": None, "contrast": None, "ended": "abandoned"}, "abandoned"),
        ({"density": None, "contrast": None, "ended": None, "state": "running"}, "running"),
        ({"density": "right", "fog": "none"}, "right"),
        ({"contrast": "hard"}, "rather thin, hard, fog"),
    ],
)
def test_a_verdict_in_a_few_words(change, words):
    fields = {name: getattr(RUN, name) for name in RUN.__struct_fields__}
    assert short_verdict(RunLine(**{**fields, **change})) == words


@pytest.mark.parametrize("width", [76, 116])
def test_the_bar_names_every_step_and_fits(width):
    bar = steps_bar(outcome(RunRecord.replay(run_entries(subject(1)))), width)
    assert len(bar) <= width
    assert [piece.split()[0] for piece in bar.split("│")] == ["Develop", "Rinse", "Fix"]
    assert steps_bar(outcome(RunRecord.replay(run_entries(subject(1))[:1])), width) == ""


def test_a_plate_waits_for_its_verdict_and_the_paper_of_a_print_does_not():
    plate = outcome(RunRecord.replay(run_entries(subject(1))))
    assert "Not judged yet: V" in run_facts(plate)
    assert "Not judged yet: V" not in run_facts(replace(plate, sheet="paper"))
