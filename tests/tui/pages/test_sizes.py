"""Every page at every size from 1x1 to 300x100, also while it is resized: no fault, nothing but red."""

from __future__ import annotations

import pytest

from tests.tui.pages.stage import stage
from tests.tui.sample_bench import six_lanes
from tests.tui.test_red_layers import not_red
from tui.pages.key_table import PAGES
from tui.pages.shared.page import SMALLEST

# What is narrow or low is tried closely, the rest here and there; a page goes through all of it in one turn.
WIDTHS = [1, 2, 5, 15, SMALLEST[0] - 1, *range(SMALLEST[0], 49), 57, 80, 110]
HEIGHTS = [1, 5, SMALLEST[1] - 1, *range(SMALLEST[1], 14), 24, 36]
SIZES = [(width, HEIGHTS[(4 * number) % len(HEIGHTS)]) for number, width in enumerate(WIDTHS)]
SIZES += [(WIDTHS[(5 * number) % len(WIDTHS)], height) for number, height in enumerate(HEIGHTS)]
CORNERS = [SMALLEST, (300, 1), (1, 100), (300, 100), (80, 24)]


async def resized(on, size):
    await on.pilot.resize_terminal(*size)
    await on.settle()


@pytest.mark.parametrize("page", [*PAGES, "help"])
async def test_no_page_fails_at_any_size_and_all_of_it_is_red(tmp_path, page):
    async with stage(tmp_path, six_lanes()) as on:
        if page == "help":
            await on.press("h")
        else:
            await on.turn_to(page)
        for size in [*SIZES, *CORNERS]:
            await resized(on, size)
            assert not_red(on.segments(), on.screen._light.filter.level) == [], size
            is_small = size[0] < SMALLEST[0] or size[1] < SMALLEST[1]
            shown = on.text().strip()
            assert shown, size
            if is_small:
                assert len(shown.splitlines()) == 1, size
        assert page.upper() in on.text()
