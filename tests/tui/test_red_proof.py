"""The red proof, one walk for each kind of terminal; and a proof that it can fail."""

from __future__ import annotations

import pytest

from tests.red_proof import TERMINALS, planted, prove


@pytest.mark.parametrize("kind", TERMINALS)
def test_nothing_but_red_is_written_or_shown(tmp_path, kind):
    assert prove(kind, tmp_path, lambda _: None) == []


def test_a_green_label_that_nothing_holds_back_is_found(tmp_path):
    """A test of the test."""
    assert [words for words in planted(tmp_path) if words.startswith("a cell of")]
