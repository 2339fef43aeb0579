"""The first start asks for the brightness by a picture: in reds only, none past the ceiling, once."""

from __future__ import annotations

import re

import pytest

from tui.first_light import ask_at_first_start, chosen_by, picture
from tui.light import LIGHT_FILE, remembered
from tui.theme import BRIGHTNESSES, FIRST_BRIGHTNESS, red_level


@pytest.mark.parametrize(
    ("keys", "kept"),
    [
        ("\r", FIRST_BRIGHTNESS),
        ("4\r", 4),
        ("4++\r", 6),
        ("9+\r", 9),
        ("1-\r", 1),
        ("x0=\n", FIRST_BRIGHTNESS + 1),
        ("5\x1b", None),
        ("5", None),
    ],
)
def test_a_number_or_a_step_chooses_and_enter_keeps(keys, kept):
    shown: list[int] = []
    assert chosen_by(iter(keys), shown.append) == kept
    assert shown[0] == FIRST_BRIGHTNESS
    if kept is not None:
        assert shown[-1] == kept


@pytest.mark.parametrize("ceiling", [1, 60, 200, 255])
def test_the_picture_has_a_line_in_each_brightness_in_reds_up_to_the_ceiling(ceiling):
    drawn = picture(5, ceiling)
    reds = [int(red) for red in re.findall(r"38;2;(\d+);0;0;48;2;0;0;0m", drawn)]
    assert drawn.count("\x1b[") == len(reds)
    assert max(reds) <= ceiling
    for number in range(1, BRIGHTNESSES + 1):
        assert (
            f"38;2;{red_level(number, ceiling)};0;0;48;2;0;0;0m {'►' if number == 5 else ' '} {number}  "
            in drawn
        )
    assert all(len(re.sub(r"\x1b\[[\d;]*m", "", line)) <= 110 for line in drawn.split("\r\n"))


def test_nothing_is_asked_where_one_is_remembered_or_nobody_sits_there(tmp_path, monkeypatch, capsys):
    ask_at_first_start(tmp_path, 200, is_dark=lambda: False)  # a test's standard input is no terminal
    monkeypatch.setattr("sys.stdin.isatty", lambda: True, raising=False)
    ask_at_first_start(tmp_path, 200, is_dark=lambda: True)
    (tmp_path / LIGHT_FILE).write_text("7\n")
    ask_at_first_start(tmp_path, 200, is_dark=lambda: False)
    assert capsys.readouterr().out == ""
    assert remembered(tmp_path) == 7
