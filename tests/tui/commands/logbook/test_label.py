"""``embertray logbook label`` writes the label of a bath, whole, on one A6."""

from __future__ import annotations

import re

import msgspec
import pytest

from firmware_py.craft.mixing import bottle_cautions, substances_of
from firmware_py.data.formulary import shipped_formulas
from firmware_py.journal.store import Journal
from tests.journal.making import subject
from tests.journal.making_baths import MADE, bath_entries
from tests.report.sheets.making import Read
from tui.cli import main


def cautions_of(formula):
    return bottle_cautions(substances_of(formula), formula.cautions)


LONGEST = max(shipped_formulas().values(), key=lambda one: sum(map(len, cautions_of(one))))


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "journal.db"
    first, *rest = bath_entries(subject(7), discarded=False)
    made = msgspec.structs.replace(MADE, name="Bath 9", formula=LONGEST.name, title=LONGEST.title)
    with Journal.open(path) as journal:
        journal.append([msgspec.structs.replace(first, event=made), *rest])
        journal.append(bath_entries(subject(8)))
    return path


def label(capsys, *words):
    code = main(["logbook", "label", *map(str, words)])
    said = capsys.readouterr()
    return code, said.out, said.err


def test_every_caution_of_the_longest_formula_stands_on_it_and_nothing_is_cut_off(path, tmp_path, capsys):
    html, pdf = tmp_path / "a.html", tmp_path / "a.pdf"
    for target in (html, pdf):
        assert label(capsys, "bath 9", "-o", target, "--journal", path)[::2] == (0, "")
    said = Read(html.read_text(encoding="utf-8")).text
    for words in ("REHEARSAL", "Bath 9", "2026-03-14 18:30", "2026-03-21 18:30", *cautions_of(LONGEST)):
        assert words in said
    # 2000 cm2 a litre, half a litre, two half plates of 199 cm2 done
    assert "602 cm²" in said
    assert len(re.findall(rb"/Type /Page\b", pdf.read_bytes())) == 1


def test_a_bath_that_is_not_there_is_refused_with_the_names_of_those_in_use(path, tmp_path, capsys):
    code, _, err = label(capsys, "Fixer", "-o", tmp_path / "a.svg", "--journal", path)
    assert (code, err) == (1, 'embertray: bath "Fixer": there is no such bath; allowed: Bath 9\n')


def test_a_discarded_bath_still_has_a_label(path, tmp_path, capsys):
    target = tmp_path / "a.html"
    assert label(capsys, "pyro of saturday", "-o", target, "--journal", path)[0] == 0
    assert "Pyro of Saturday" in target.read_text(encoding="utf-8")
