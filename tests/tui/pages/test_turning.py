"""Turning from page to page: by arrow, by number, with and without the foot."""

from __future__ import annotations

from textual import events

from firmware_py.facts.acts.print import ServeFoot
from tests.tui.pages.stage import stage
from tests.tui.sample_bench import bench, lane
from tui.pages.key_table import PAGES
from tui.pages.shared.page_names import FOOT_PAGES, has_foot


async def test_every_page_is_reached_by_its_number_and_only_those_for_a_foot_take_it_along(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        for number, page in enumerate(PAGES, 1):
            on.link.asked.clear()
            await on.press("0")
            assert f"{number}  {page.capitalize()}" in on.text()
            await on.press(str(number))
            assert on.text().splitlines()[0].startswith(f" {page.upper()}  ")
            assert on.link.asked == ([ServeFoot(to=page)] if has_foot(page) else [])


async def test_arrows_go_round_all_pages(tmp_path):
    async with stage(tmp_path, bench(lane())) as on:
        await on.press(*["right"] * (len(PAGES) - 1))
        assert on.screen.page == PAGES[-1]
        await on.press("right", "left")
        assert on.screen.page == PAGES[-1]
        assert {act.to for act in on.link.asked if isinstance(act, ServeFoot)} == set(FOOT_PAGES)


async def test_two_keys_at_once_leave_help_once(tmp_path):
    """Found by the storm: the second found no page to leave, and the screen ended."""
    async with stage(tmp_path, bench(lane())) as on:
        await on.press("h")
        for key in "xx":
            on.screen.screen.post_message(events.Key(key, key))
        await on.settle()
        assert on.screen.is_running
        assert on.text().splitlines()[0].startswith(" TRAYS")
