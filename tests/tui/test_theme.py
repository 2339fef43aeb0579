"""Labels can be read: contrast by WCAG 2.1 over every brightness, ceiling and style; never past the ceiling.

The formula: Web Content Accessibility Guidelines 2.1, "relative luminance", "contrast ratio" (from memory).
Its success criterion 1.4.3 wants 3:1 of large or bold text. Two values that the issue names: pure red on
black 5.25:1, #9e0000 on black 2.45:1.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import tui
from tests.tui.pages.stage import stage
from tests.tui.sample_baths import BATHS, with_baths
from tui.pages.shared.page_names import PAGE_NAMES
from tui.theme import BRIGHTNESSES, READABLE_FROM, half_level, red_level, red_theme

STYLES = (Path(tui.__file__).parent / "embertray.tcss").read_text(encoding="utf-8")
CEILINGS = (183, 200, 230, 255)


def luminance(colour: str) -> float:
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def label_styles() -> set[tuple[str, str]]:
    """Every colour of text of the style sheet with its ground; the screen's own where none is given."""
    found = set()
    for _, body in re.findall(r"^([^/{\n][^{\n]*)\{([^}]*)\}", STYLES, re.MULTILINE):
        said = dict(re.findall(r"(?:^|[;\s])(color|background): \$(\w+)", body))
        if said:
            found.add((said.get("color", "full"), said.get("background", "dark")))
    return found


def test_the_formula_gives_the_known_values():
    assert contrast("#ff0000", "#000000") == pytest.approx(5.25, abs=0.005)
    assert contrast("#9e0000", "#000000") == pytest.approx(2.45, abs=0.005)


def test_the_style_sheet_is_read():
    assert {("half", "dark"), ("dark", "half"), ("dark", "full"), ("full", "dark")} == label_styles()


@pytest.mark.parametrize("ceiling", CEILINGS)
@pytest.mark.parametrize("brightness", range(READABLE_FROM, BRIGHTNESSES + 1))
def test_from_the_third_brightness_on_every_label_has_three_to_one(brightness, ceiling):
    colours = red_theme(brightness, ceiling).variables
    for text, ground in label_styles():
        assert contrast(colours[text], colours[ground]) >= 3.0
    assert contrast(colours["input-cursor-foreground"], colours["input-cursor-background"]) >= 3.0


@pytest.mark.parametrize("ceiling", [1, 24, 60, 120, 182, *CEILINGS])
def test_no_brightness_that_is_remembered_is_past_the_ceiling_that_a_plate_was_tested_with(ceiling):
    for brightness in range(1, BRIGHTNESSES + 1):
        level = red_level(brightness, ceiling)
        assert 1 <= level <= ceiling
        assert half_level(level) <= level
        for value in red_theme(brightness, ceiling).variables.values():
            assert int(value[1:3], 16) <= ceiling
            assert value.endswith("0000")


@pytest.mark.parametrize("ceiling", CEILINGS)
def test_brightnesses_rise(ceiling):
    levels = [red_level(brightness, ceiling) for brightness in range(1, BRIGHTNESSES + 1)]
    assert levels == sorted(levels)
    assert levels[-1] == ceiling


@pytest.mark.parametrize("page", PAGE_NAMES)
async def test_the_keys_for_the_light_are_named_on_every_page(tmp_path, page):
    async with stage(tmp_path, with_baths(*BATHS), own_s=0.0) as on:
        await on.turn_to(page)
        assert "+ -" in on.text()
