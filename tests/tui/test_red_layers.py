"""Inside the screen: theme, line filter and driver each let nothing but red through."""

from __future__ import annotations

import re

import pytest
from rich.color import Color
from rich.segment import Segment
from rich.style import Style
from textual.color import Color as TextualColor

from firmware_py.service.client import LinkLost
from tests.tui.pages.stage import stage
from tests.tui.sample_bench import NOW_S, SampleLink, bath, bench, fixing, lane, six_lanes
from tests.tui.sample_print import LAMP_SCENES
from tui.light import remember
from tui.red_filter import RedFilter, red_style
from tui.screen import EmbertrayScreen
from tui.theme import BRIGHTNESSES, red_level, red_theme, reddened

BLACK = TextualColor(0, 0, 0)
TRAYS = [
    bench(),
    bench(lane()),
    bench(fixing(1, state="due", due_s=NOW_S - 9)),
    bench(lane(bath=bath(source="trend"))),
    bench(lane(state="interrupted", due_s=None, equivalent_s=None)),
    six_lanes(),
]
KEYS = ["n x", "o", "a", "h down", "minus", "right", "enter"]


def not_red(rows: list[list[Segment]], level: int) -> list[Segment]:
    return [segment for row in rows for segment in row if not is_red(segment.style, level)]


def is_red(style: Style | None, level: int) -> bool:
    colours = (style.color, style.bgcolor) if style is not None else (None,)
    return all(
        colour is not None
        and colour.triplet is not None
        and colour.triplet.green == colour.triplet.blue == 0
        and colour.triplet.red <= level
        for colour in colours
    )


@pytest.mark.parametrize("size", [(80, 24), (40, 10)])
async def test_every_segment_of_every_page_has_two_explicit_reds(tmp_path, size):
    async with stage(tmp_path, size=size) as on:
        for view in [*TRAYS, LinkLost("gone")]:
            await on.show(view)
            assert not_red(on.segments(), on.screen._light.filter.level) == []
        await on.press("right")
        for view in [*LAMP_SCENES.values(), LinkLost("gone"), TRAYS[1]]:
            await on.show(view)
            assert not_red(on.segments(), on.screen._light.filter.level) == []
        await on.press("left")
        for keys in KEYS:
            await on.press(*keys.split())
            assert not_red(on.segments(), on.screen._light.filter.level) == []
            await on.press("escape")


async def test_a_green_label_is_found_without_the_filter(tmp_path, monkeypatch):
    """A test of the test."""
    monkeypatch.setattr(EmbertrayScreen, "get_line_filters", lambda _: [])
    async with stage(tmp_path, bench(lane())) as on:
        on.screen.screen.query_one("#title").styles.color = "green"
        await on.settle()
        assert not_red(on.segments(), 255)


@pytest.mark.parametrize("brightness", range(1, BRIGHTNESSES + 1))
def test_every_style_variable_is_red_and_text_stays_apart_from_its_ground(tmp_path, brightness):
    remember(brightness, tmp_path)
    screen = EmbertrayScreen(SampleLink(), tmp_path)
    variables = screen.get_css_variables()
    colours = [value for value in variables.values() if value.startswith("#")]
    assert colours
    assert [value for value in colours if not re.match(r"#[0-9A-Fa-f]{2}0000", value)] == []
    assert not [value for value in variables.values() if value.startswith(("auto", "ansi"))]
    full, half = (int(variables[name][1:3], 16) for name in ("full", "half"))
    assert half >= 0.5 * full > 0


def test_brightness_rises_step_by_step_up_to_the_ceiling():
    levels = [red_level(step, 180) for step in range(1, BRIGHTNESSES + 1)]
    assert levels == sorted(set(levels))
    assert levels[-1] == 180
    assert red_level(1, 1) == 1


def test_a_themes_own_variables_are_red_before_any_other_layer():
    theme = red_theme(5, 200)
    given = [theme.primary, theme.foreground, theme.background, *theme.variables.values()]
    assert all(re.fullmatch(r"#[0-9a-f]{2}0000", value or "") for value in given)


def test_variables_that_are_no_colours_stay():
    assert reddened({"a": "#00ff00 50%", "b": "bold", "c": "auto 87%"}, 100) == {
        "a": "#480000 50%",
        "b": "bold",
        "c": "#640000 87%",
    }


def test_the_filter_leaves_no_colour_to_the_terminal():
    segments = [Segment("x"), Segment("y", Style(color="bright_green", bgcolor="blue"))]
    drawn = RedFilter(90).apply(segments, BLACK)
    assert [is_red(segment.style, 90) for segment in drawn] == [True, True]


def test_the_filter_keeps_reds_and_drops_manners_of_unsure_colour():
    asked = Style(color=Color.from_rgb(40, 0, 0), blink=True, underline=True, italic=True, link="x")
    style = red_style(asked, 90)
    assert style.color == Color.from_rgb(40, 0, 0)
    assert [style.blink, style.underline, style.italic, style.link] == [None, None, None, None]
