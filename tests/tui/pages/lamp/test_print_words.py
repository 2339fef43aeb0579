"""A print in words: its strip, its burns, its sheet."""

from __future__ import annotations

from msgspec.structs import replace

from firmware_py.facts.views.print import SheetView
from tests.tui.sample_print import a_print, strip, strip_under_way
from tui.pages.lamp.print_words import print_lines

WIDTH = 25


def told(one):
    return [line.words for line in print_lines(one, WIDTH, 20)]


def test_patches_that_are_covered_have_got_their_light_and_the_others_have_not():
    lines = told(strip_under_way())
    assert "Strip 0.5 stop: 2 of 7" in lines
    assert [line.split()[-1] for line in lines[-7:]] == ["got", "got", *["get"] * 5]


def test_of_a_strip_that_is_uncovered_step_by_step_no_patch_has_all_its_light_before_the_end():
    uncovering = replace(strip(2, None), method="uncovering")
    lines = told(replace(strip_under_way(), strip=uncovering))
    assert [line.split()[-1] for line in lines[-7:]] == ["get"] * 7


def test_a_burn_is_told_by_its_place_and_with_its_stops():
    assert "Burn sky +0.5 stop 3.31 s" in told(a_print())


def test_a_sheet_that_has_no_light_yet_is_told_by_what_it_gets():
    sheet = SheetView(sheet=2, kind="print", given_s=0.0, wanted_s=13.5, half_exposed=False)
    assert "Sheet 2 gets 13.5 s" in told(a_print(sheet=sheet))
