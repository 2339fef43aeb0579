"""The red proof in real colours, and a proof that it can fail; `.ci/run` walks the other terminals too."""

from __future__ import annotations

from tests.red_proof import planted, prove


def test_nothing_but_red_is_written_or_shown_in_real_colours(tmp_path):
    assert prove("real colours", tmp_path, lambda _: None) == []


def test_a_green_label_that_nothing_holds_back_is_found(tmp_path):
    """A test of the test."""
    assert [words for words in planted(tmp_path) if words.startswith("a cell of")]
