"""The red proof in real colours, and a proof that it can fail; `.ci/run` walks the other terminals too."""

from __future__ import annotations

from tests.red_proof import planted, prove
from tests.tui.real_screen import not_red
from tests.tui.terminal_session import TerminalSession, python

# Red words; then work, and green no longer than until it is written over: a page that is still being drawn.
LATE = r"""
import sys
say = lambda words: print(words, end="", flush=True)
say("\x1b[0;38;2;90;0;0;48;2;0;0;0mall is drawn" + "." * 100)
sum(range(10_000_000))
say("\x1b[0;38;2;0;90;0;48;2;0;0;0m!\r\x1b[0;38;2;90;0;0;48;2;0;0;0mall is drawn")
input()
"""


def test_nothing_but_red_is_written_or_shown_in_real_colours(tmp_path):
    assert prove("real colours", tmp_path, lambda _: None) == []


def test_a_green_label_that_nothing_holds_back_is_found(tmp_path):
    """A test of the test."""
    assert [words for words in planted(tmp_path) if words.startswith("a cell of")]


def test_a_green_that_comes_after_the_words_and_goes_again_is_found():
    """A look covers all that is written until the program rests, and what was drawn over."""
    with TerminalSession(*python(LATE)) as on:
        on.until_shown("all is drawn")
        assert "a cell of 005a00" in not_red(on)
