"""The key table is the only place where a key is given a meaning."""

from __future__ import annotations

import pytest

from tests.tui.sample_bench import NOW_S, bench, fixing, lane, six_lanes
from tui.moment import Moment
from tui.pages.help.page import help_text
from tui.pages.key_table import EVERYWHERE, PAGE_KEYS, PAGES, keys_on
from tui.pages.opening import open_page
from tui.pages.shared.binding import bindings
from tui.screen import EmbertrayScreen

ALL_KEYS = [*EVERYWHERE, *(use for page in PAGES for use in PAGE_KEYS[page])]


@pytest.mark.parametrize("page", PAGES)
def test_no_key_means_two_things_on_a_page(page):
    keys = [key for use in keys_on(page) for key in use.keys]
    assert len(keys) == len(set(keys))


@pytest.mark.parametrize("page", PAGES)
def test_every_key_is_bound_to_an_action_that_exists(page):
    for use in PAGE_KEYS[page]:
        assert hasattr(open_page(page), f"action_{use.act}"), use.act
    for use in EVERYWHERE:
        assert hasattr(EmbertrayScreen, f"action_{use.act}"), use.act
    assert len(bindings(keys_on(page))) == sum(len(use.keys) for use in keys_on(page))


LEAVES_A_VIEW = {"back", "close_table", "from_top"}


def test_escape_only_leaves_a_view_and_nothing_is_bound_to_a_chord():
    """Terminals wait 100 ms on Escape; wet hands press no two keys at once. Shift and Tab goes back only."""
    keys = {key for use in ALL_KEYS for key in use.keys}
    assert {use.act for use in ALL_KEYS if "escape" in use.keys} == LEAVES_A_VIEW
    assert {key for key in keys if "ctrl" in key or "alt" in key} == set()


@pytest.mark.parametrize("page", PAGES)
def test_the_help_page_tells_every_key_of_every_page(page):
    text = help_text(76, page).plain
    for use in ALL_KEYS:
        assert f" {use.label} " in text
        assert " ".join(use.help.split()) in " ".join(text.split())


def test_pull_is_offered_only_while_a_plate_develops():
    offered = next(use for use in ALL_KEYS if use.act == "pull").brief
    assert offered(seen(lane())) == "PULL"
    others = (seen(), seen(fixing(1)), seen(lane(state="ready", equivalent_s=None)))
    assert {offered(moment) for moment in others} == {""}


def test_every_state_of_a_tray_has_words_for_what_can_be_done():
    for sample in six_lanes().lanes:
        assert [use for use in PAGE_KEYS["trays"] if use.brief(seen(sample))]


def seen(*lanes) -> Moment:
    return Moment(bench(*lanes), NOW_S)
