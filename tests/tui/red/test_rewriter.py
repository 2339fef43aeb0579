"""Whatever goes into the rewriter, however cut, only red comes out."""

from __future__ import annotations

import pyte
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from tests.tui.strict_terminal import StrictTerminal
from tui.red.rewriter import RedOnly

LEVEL = 120

# Pieces of terminal language, whole and broken, mixed with noise.
PIECES = st.one_of(
    st.binary(max_size=12),
    st.text(max_size=8).map(str.encode),
    st.builds(
        lambda params, final: f"\x1b[{';'.join(map(str, params))}{final}".encode(),
        st.lists(st.integers(0, 300), max_size=6),
        st.sampled_from("mmmmmmJKHLMPSTXbrsuhlctnqABCD@"),
    ),
    st.sampled_from(
        [
            b"\x1b[38;2;0;255;0m",
            b"\x1b[38:2::10:200:30m",
            b"\x1b[48:5:46m",
            b"\x1b[38;5;21m",
            b"\x1b[0m",
            b"\x1b[m",
            b"\x1b[39;49m",
            b"\x1b[7m",
            b"\x1b[97;104m",
            b"\x1b[58;2;0;255;0m",
            b"\x1b]4;1;rgb:00/ff/00\x07",
            b"\x1b]11;#00ff00\x1b\\",
            b"\x1b]8;;http://example.org\x1b\\",
            b"\x1b]0;title\x07",
            b"\x1b]P100ff00",
            b"\x1b]R",
            b"\x1bPq#0;2;0;100;0#0~~\x1b\\",
            b"\x1b_Ga=T,f=24;AAAA\x1b\\",
            b"\x1b]1337;File=inline=1:AAAA\x07",
            b"\x1bc",
            b"\x1b#8",
            b"\x1b[!p",
            b"\x1b[?5h",
            b"\x1b[?1049h",
            b"\x1b[?1049l",
            b"\x1b[?25;5;3h",
            b"\x1b[?2J",
            b"\x1b[1;1;5;5;42$r",
            b"\x1b7",
            b"\x1b8",
            b"\x1bM",
            b"\x9b32m",
            b"\x1b[",
            b"\x1b]",
            b"\x1b",
            b"\x18",
            "\u2764\ufe0f\U0001f600\u202e".encode(),
            "\u00e9\u2591\u4e2d".encode(),
        ]
    ),
)
STREAMS = st.lists(PIECES, max_size=14).map(b"".join)


def red(data: bytes, *, console: bool = False) -> str:
    return RedOnly(LEVEL, console=console).feed(data).decode()


def cells(text: str) -> set[tuple[str, str]]:
    """The colours of all cells that a terminal emulator has drawn or filled after ``text``."""
    screen = pyte.Screen(40, 10)
    pyte.Stream(screen).feed(text)
    # A cell never touched has the terminal's own colours, which the gate has turned red before.
    drawn = [cell for row in screen.buffer.values() for cell in row.values() if cell != screen.default_char]
    return {(cell.fg, cell.bg) for cell in drawn}


@given(STREAMS)
@settings(max_examples=100, deadline=None)
def test_a_strict_reader_finds_nothing_but_red(data):
    reader = StrictTerminal(LEVEL)
    reader.feed(red(data))
    assert reader.faults == []


@given(STREAMS)
@settings(max_examples=50, deadline=None)
def test_a_console_is_told_only_shades_of_its_red_palette(data):
    reader = StrictTerminal(LEVEL, console=True)
    reader.feed(red(data, console=True))
    assert reader.faults == []


@given(STREAMS)
@settings(max_examples=50, deadline=None)
def test_an_emulator_shows_no_cell_that_is_not_red(data):
    for colours in cells(red(data)):
        for colour in colours:
            assert colour[2:] == "0000"
            assert int(colour[:2], 16) <= LEVEL


@given(STREAMS, st.lists(st.integers(0, 200), max_size=10))
@settings(max_examples=100, deadline=None)
def test_cuts_between_reads_change_nothing(data, cuts):
    rewriter = RedOnly(LEVEL)
    places = sorted({min(cut, len(data)) for cut in cuts})
    parts = [data[a:b] for a, b in zip([0, *places], [*places, len(data)], strict=True)]
    assert b"".join(map(rewriter.feed, parts)).decode() == red(data)


@given(STREAMS)
@settings(max_examples=50, deadline=None)
def test_rewriting_twice_is_rewriting_once(data):
    once = RedOnly(LEVEL).feed(data)
    assert RedOnly(LEVEL).feed(once) == once


def test_plain_red_text_passes_with_its_own_brightness():
    assert red(b"\x1b[38;2;90;0;0;48;2;10;0;0mdeep") == "\x1b[0;38;2;90;0;0;48;2;10;0;0mdeep"


def test_red_brighter_than_the_level_is_held_at_the_level():
    assert red(b"\x1b[38;2;255;0;0mbright") == "\x1b[0;38;2;120;0;0;48;2;0;0;0mbright"


@pytest.mark.parametrize(
    "asked", ["38;2;0;255;0", "38:2::0:255:0", "38:2:0:255:0", "38;5;46", "38:5:46", "92"]
)
def test_green_of_every_form_becomes_one_red(asked):
    shown = red(f"\x1b[{asked}mg".encode())
    assert shown == "\x1b[0;38;2;86;0;0;48;2;0;0;0mg"


def test_text_that_would_sink_into_its_background_is_set_off():
    shown = red(b"\x1b[38;2;0;90;0;48;2;0;88;0msame")
    assert shown == "\x1b[0;38;2;120;0;0;48;2;30;0;0msame"


def test_reverse_video_is_spelled_out_and_never_asked_for():
    assert red(b"\x1b[7mx") == "\x1b[0;38;2;0;0;0;48;2;120;0;0mx"


def test_erasing_says_the_background_first():
    assert red(b"\x1b[2J") == "\x1b[0;38;2;120;0;0;48;2;0;0;0m\x1b[2J"


def test_a_restored_cursor_does_not_bring_an_old_pen_back_unsaid():
    shown = red(b"\x1b[38;2;50;0;0ma\x1b7\x1b[38;2;60;0;0mb\x1b8c")
    assert shown.endswith("\x1b8\x1b[0;38;2;50;0;0;48;2;0;0;0mc")


@pytest.mark.parametrize(
    "hostile",
    [
        b"\x1b[?5h",
        b"\x1b#8",
        b"\x1bPq#0;2;0;100;0~\x1b\\",
        b"\x1b_Gf=24;AAAA\x1b\\",
        b"\x1b]1337;File=:AAAA\x07",
        b"\x1b]8;;http://example.org\x07",
        b"\x1b]52;c;AAAA\x07",
        b"\x1b]P200ff00",
        b"\x1b]R",
        b"\x07",
        b"\x1b[3;5;7;8$r",
        b"\x1b[?69h",
        b"\x1b[1;2]",
        b"\x1b(A",
        b"\x0e",
        "\u009b32m".encode(),
    ],
)
def test_what_could_show_other_light_is_dropped(hostile):
    assert red(hostile).replace("32m", "") in {"", "\x1b[0;38;2;120;0;0;48;2;0;0;0m"}


def test_titles_pass_without_anything_that_is_not_text():
    assert red(b"\x1b]2;A\x01b\xe2\x80\xae c\x07") == "\x1b]2;Ab c\x1b\\"


def test_the_bell_rings_only_if_asked():
    assert RedOnly(LEVEL, bell=True).feed(b"\x07") == b"\x07"


def test_coloured_pictures_become_dots_of_the_same_width():
    assert red("a😀b❤️c".encode()).endswith("ma··b·c")


def test_the_alternate_screen_of_a_program_only_clears_the_gates_own():
    rewriter = RedOnly(LEVEL)
    assert b"1049" not in rewriter.feed(b"\x1b[?1049h")
    assert rewriter.in_full_screen
    assert b"1049" not in rewriter.feed(b"\x1b[?1049l")
    assert not rewriter.in_full_screen


@pytest.mark.parametrize(
    "endless", [b"\x1b[" + b"1;" * 5000, b"\x1b]0;" + b"x" * 9000, b"\x1b" + b" " * 9000]
)
def test_a_sequence_that_never_ends_is_not_kept_for_ever(endless):
    rewriter = RedOnly(LEVEL)
    rewriter.feed(endless)
    for _ in range(5):
        assert rewriter.feed(endless[4:]) == b""
        assert len(rewriter._tail) + len(rewriter._payload) < 1500


def test_after_an_endless_sequence_the_next_escape_is_read_again():
    rewriter = RedOnly(LEVEL)
    rewriter.feed(b"\x1bPq" + b"~" * 9000)
    assert rewriter.feed(b"\x1b[38;2;40;0;0mok") == b"\x1b[0;38;2;40;0;0;48;2;0;0;0mok"


def test_inside_the_gate_the_other_screen_is_asked_for_so_that_the_gate_knows():
    rewriter = RedOnly(LEVEL, other_screen=True)
    assert rewriter.feed(b"\x1b[?1049h").startswith(b"\x1b[?1049h")
    assert rewriter.in_full_screen
    reader = StrictTerminal(LEVEL)
    reader.feed(rewriter.feed(b"\x1b[?1049l\x1b[32mx").decode())
    assert reader.faults == []


def test_a_console_gets_no_manner_that_it_draws_in_colours_of_its_own():
    shown = red(b"\x1b[2;3;4;9;38;2;120;0;0mx", console=True)
    assert shown == "\x1b[0;34;40mx"


@pytest.mark.parametrize("level", [0, -3, 256])
def test_a_level_that_is_no_brightness_is_refused(level):
    with pytest.raises(Refused, match="1 to 255"):
        RedOnly(level)


def test_the_emulator_in_these_tests_does_see_green():
    """A test of the test: without the rewriter the same reading finds what it should."""
    assert ("00ff00", "default") in cells("\x1b[38;2;0;255;0mgreen")
    reader = StrictTerminal(LEVEL)
    reader.feed("\x1b[38;2;0;255;0mgreen")
    assert reader.faults
