"""The label of a bath says what is in the bottle, since when, until when, and what goes for every bottle."""

from __future__ import annotations

from firmware_py.report.sheets.bath_label import EVERY_BOTTLE, Bottle, bath_label
from firmware_py.report.sheets.drawn import width_mm
from firmware_py.report.sheets.html import html_of
from firmware_py.report.sheets.layout import leaves_of
from tests.report.sheets.making import Read

BOTTLE = Bottle(
    name="Fixer 3",
    made_from="plain-hypo: Plain hypo for plates",
    made_on="2026-03-14",
    volume_ml=1000.0,
    keep_until="2026-09-10",
    left_cm2=3120.4,
    cautions=("Do not mix with acid.",),
)


def test_everything_stands_on_it_and_it_fits_its_paper():
    page = bath_label(BOTTLE)
    said = Read(html_of(page, "label").decode()).text
    for words in ("Fixer 3", "plain-hypo", "2026-03-14", "1000 ml", "2026-09-10", "3120 cm²"):
        assert words in said
    for words in (*BOTTLE.cautions, *EVERY_BOTTLE):
        assert words in said
    assert len(leaves_of(page, "label", width_mm)) == 1


def test_what_nobody_says_is_not_made_up_and_a_rehearsal_is_said():
    bare = Bottle("Fixer 3", "plain hypo", "2026-03-14", 500.0, rehearsal=True)
    page = bath_label(bare)
    assert Read(html_of(page, "label").decode()).text.count("nobody says") == 2
    assert page.banner == "REHEARSAL"
    assert len(leaves_of(page, "label", width_mm)) == 1
