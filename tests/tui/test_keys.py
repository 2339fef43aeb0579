"""The key table is the only place where a key is given a meaning."""

from __future__ import annotations

from tests.tui.sample_bench import fixing, lane, six_lanes
from tui.keys import KEYS
from tui.pages.help import help_text
from tui.screen import EmbertrayScreen, bindings


def test_no_key_means_two_things():
    keys = [key for use in KEYS for key in use.keys]
    assert len(keys) == len(set(keys))


def test_every_key_is_bound_to_an_action_that_exists():
    for use in KEYS:
        assert hasattr(EmbertrayScreen, f"action_{use.act}"), use.act
    assert len(bindings()) == sum(len(use.keys) for use in KEYS)


def test_nothing_is_bound_to_escape_or_to_a_chord():
    """Terminals wait 100 ms on Escape; wet hands press no two keys at once. Shift and Tab goes back only."""
    keys = {key for use in KEYS for key in use.keys}
    assert "escape" not in keys
    assert {key for key in keys if "ctrl" in key or "alt" in key} == set()


def test_the_help_page_tells_every_key():
    text = help_text(76).plain
    for use in KEYS:
        assert f" {use.label} " in text
        assert " ".join(use.help.split()) in " ".join(text.split())


def test_pull_is_offered_only_while_a_plate_develops():
    offered = next(use for use in KEYS if use.act == "pull").brief
    assert offered(lane()) == "PULL"
    assert {offered(sample) for sample in (None, fixing(1), lane(state="ready", equivalent_s=None))} == {""}


def test_every_state_of_a_tray_has_words_for_what_can_be_done():
    for sample in six_lanes().lanes:
        assert [use for use in KEYS if use.brief(sample)]
