"""Whatever call of the gate fails, in whatever state, the colours are not given back: one in twelve of them.

`.ci/run` tries all of them.
"""

from __future__ import annotations

import pytest

from tests.tui.gate import failing_calls
from tests.tui.gate.failing_calls import faults
from tui.gate.terminal import Terminal


@pytest.mark.parametrize("dark", [False, True])
def test_whatever_call_of_the_gate_fails_the_terminal_stays_red_or_black(tmp_path, dark):
    assert faults(tmp_path, dark=dark, one_in=12) == {}


def test_a_gate_that_gives_back_after_a_fault_is_caught(tmp_path, monkeypatch):
    """A test of the test: as a gate did that took every end for the person's word."""
    leave = Terminal.leave
    monkeypatch.setattr(Terminal, "leave", lambda self, **kind: leave(self, **{**kind, "gives_back": True}))
    monkeypatch.setattr(failing_calls, "LIT", failing_calls.LIT[:1] + failing_calls.LIT[-1:])
    found = faults(tmp_path, dark=False, one_in=40)
    assert any("the colours were given back" in words for seen in found.values() for words in seen)
