"""Times as words."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.pages.shared.time_words import cut, cut_between, gone_words, left_words, next_change_s, printable


@pytest.mark.parametrize(
    ("left_s", "shown"),
    [
        (0.0, "0:00"),
        (-3.0, "0:00"),
        (0.2, "0:01"),
        (59.9, "1:00"),
        (61.0, "1:01"),
        (5999.0, "99:59"),
        (6000.0, "1:40:00"),
    ],
)
def test_time_left_is_zero_only_when_it_is_over(left_s, shown):
    assert left_words(left_s) == shown


@pytest.mark.parametrize(("gone_s", "shown"), [(0.0, "0:00"), (0.99, "0:00"), (1.0, "0:01"), (-1.0, "0:00")])
def test_time_gone_counts_full_seconds(gone_s, shown):
    assert gone_words(gone_s) == shown


@given(st.floats(0.0, 9000.0))
def test_time_left_stays_the_same_until_its_next_change_and_differs_after(left_s):
    wait_s = next_change_s(left_s, falling=True)
    assert 0.0 < wait_s <= 1.0
    assert left_words(left_s - wait_s + 1e-4) in {left_words(left_s), left_words(left_s + 1e-5)}
    assert left_words(left_s - wait_s - 1e-4) != left_words(left_s + 1e-5) or left_s < 1.0


@given(st.floats(0.0, 9000.0))
def test_time_gone_changes_when_said(gone_s):
    wait_s = next_change_s(gone_s, falling=False)
    assert 0.0 < wait_s <= 1.0
    assert gone_words(gone_s + wait_s + 1e-4) != gone_words(gone_s - 1e-5)


def test_text_from_outside_becomes_one_plain_line():
    assert printable("a\x1b[32mb\nc\u202ed\t") == "a [32mb c d"


def test_a_cut_text_says_that_it_was_cut():
    assert cut("breakwater", 6) == "break…"
    assert cut("wall", 6) == "wall"


@pytest.mark.parametrize(
    ("width", "shown"),
    [
        (40, "sky is up 1:28, image appears 0:53"),
        (30, "sky is up 1:28, …"),
        (17, "sky is up 1:28, …"),
        (10, "sky is up…"),
    ],
)
def test_a_row_of_parts_is_cut_between_them_where_one_finds_room(width, shown):
    assert cut_between("sky is up 1:28, image appears 0:53", width, between=", ") == shown
