"""The characters that fonts may draw as coloured pictures.

Source: Unicode Character Database, emoji-variation-sequences.txt, as packaged in the table of wcwidth
(`wcwidth.table_vs16`): every character that has a picture form although it is text by default.
"""

from __future__ import annotations

import pytest
from wcwidth.table_vs16 import VS16_NARROW_TO_WIDE

from tui.red.characters import drawable

# Digits, # and * are pictures only with a selector behind them, and selectors are never let through.
WITH_SELECTOR_ONLY = set("#*0123456789")
RANGES = next(iter(VS16_NARROW_TO_WIDE.values()))
PICTURES = {chr(code) for first, last in RANGES for code in range(first, last + 1)} - WITH_SELECTOR_ONLY


def test_no_character_with_a_picture_form_is_drawn():
    assert len(PICTURES) > 200
    assert {character for character in PICTURES if character in drawable(character)} == set()


@pytest.mark.parametrize("selector", ["\ufe0f", "\u20e3", "\u200d"])
def test_selectors_that_ask_for_a_picture_are_dropped(selector):
    assert drawable(f"7{selector}") == "7"
