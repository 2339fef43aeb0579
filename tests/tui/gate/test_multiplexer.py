"""Inside a real tmux and a real GNU screen: what they write to the terminal around them is red."""

from __future__ import annotations

import sys

import pytest

from firmware_py.craft.refusal import Refused
from tests.red_proof import prove_inside
from tests.tui.multiplexer import MULTIPLEXERS, colours, inside, is_here, not_red_inside
from tui.gate.terminal import checked_multiplexer
from tui.red.colours import cube_red, indexed_rgb

LEVEL = 200
# Dim and bright, true colours and palette, and a cleared line: behind the gate, inside the multiplexer.
DRAWS = """
import sys
for red in range(0, 256, 5):
    sys.stdout.write(f"\\x1b[38;2;{red};0;0;48;2;{255 - red};0;0mx")
sys.stdout.write("\\x1b[0m\\r\\n\\x1b[32mgreen\\x1b[K\\x1b[44mblue\\x1b[?25hDRAWN\\r\\n")
sys.stdout.flush()
sys.stdin.readline()
"""
GATE = f"import sys; from tui.gate import run\nargv = [sys.executable, '-c', {DRAWS!r}]\n"
GATE += f"run(argv, level={LEVEL}, bar_is_hidden=True)"
# Drawn without any gate: a multiplexer passes green as green.
BARE = f"print('\\x1b[32mDRAWN in green\\x1b[0m' + {'.' * 100!r}); input()"
kinds = pytest.mark.parametrize("kind", MULTIPLEXERS)


@pytest.fixture
def here(kind):
    if not is_here(kind):
        pytest.skip(f"{kind} is not here (Debian: {kind})")


@kinds
@pytest.mark.usefixtures("here")
def test_what_a_multiplexer_writes_of_the_gate_is_red(kind, tmp_path):
    (tmp_path / "gate.py").write_text(GATE)
    with inside(kind, [sys.executable, str(tmp_path / "gate.py")]) as on:
        on.until_shown("DRAWN")
        assert not_red_inside(on, LEVEL) == []
        # Black and the three reds of the cube up to the level, as ink and as ground.
        assert len(set(colours(on.text))) == 8


@kinds
@pytest.mark.usefixtures("here")
def test_pages_and_a_question_of_the_real_screen_are_red_inside_a_multiplexer(kind, tmp_path):
    assert prove_inside(kind, tmp_path, lambda _: None) == []


@kinds
@pytest.mark.usefixtures("here")
def test_a_green_inside_a_multiplexer_is_found(kind, tmp_path):
    """A test of the test."""
    (tmp_path / "bare.py").write_text(BARE)
    with inside(kind, [sys.executable, str(tmp_path / "bare.py")]) as on:
        on.until_shown("DRAWN")
        found = not_red_inside(on, LEVEL)
        assert "set 32" in found
        assert "a cell of green in row 0" in found


def test_the_reds_of_the_cube_are_pure_and_none_is_past_the_level():
    for level in (95, 134, 200, 255):
        for red in range(256):
            shown = indexed_rgb(cube_red(red, level))
            assert shown[1:] == (0, 0)
            assert shown[0] <= level
            assert (shown[0] == 0) == (red == 0)


@pytest.mark.parametrize(
    "variables", [{"TMUX": "/tmp/t,1,0"}, {"STY": "1.x"}, {"TERM": "screen-256color"}, {"TERM": "tmux"}]
)
def test_a_multiplexer_is_refused_unless_its_bar_is_hidden(variables):
    with pytest.raises(Refused, match="not red"):
        checked_multiplexer(variables, LEVEL, bar_is_hidden=False)
    with pytest.raises(Refused, match="dimmer than 95"):
        checked_multiplexer(variables, 60, bar_is_hidden=True)
    assert checked_multiplexer(variables, LEVEL, bar_is_hidden=True)
    assert not checked_multiplexer({"TERM": "xterm-256color"}, 60, bar_is_hidden=False)
