"""What the settings say of the screen: an idle one goes black and any key wakes it; the panel follows."""

from __future__ import annotations

import asyncio
import itertools

import msgspec

from firmware_py.facts.tunes import PATTERNS
from firmware_py.facts.views.bench import SoundView
from firmware_py.settings.screen import ScreenSection
from firmware_py.strict_toml import Seconds
from tests.tui.pages.stage import stage
from tests.tui.sample_bench import bench, lane
from tui.bell import Bell, strokes


class Own:
    """The screen's own clock, moved by the test."""

    def __init__(self) -> None:
        self.now_s = 100.0

    def __call__(self) -> float:
        return self.now_s


def lit(on) -> bool:
    return any(
        segment.text.strip() and segment.style is not None and segment.style.color.get_truecolor().red > 0
        for row in on.segments()
        for segment in row
    )


async def test_an_idle_screen_goes_black_and_the_key_that_wakes_it_does_nothing_else(tmp_path):
    own = Own()
    rule = ScreenSection(blank_after=Seconds(60.0))
    async with stage(tmp_path, bench(), own_s=own, rule=rule) as on:
        assert lit(on)
        own.now_s += 61.0
        await on.show(bench())
        assert not lit(on)
        await on.press("s")
        assert lit(on)
        assert on.link.asked == []
        await on.press("s")
        assert len(on.link.asked) == 1
        own.now_s += 61.0
        await on.show(bench())
        assert not lit(on)
        await on.show(msgspec.structs.replace(bench(), sounded=SoundView(number=3, tune="now")))
        assert lit(on)


async def test_a_bench_at_work_stays_lit(tmp_path):
    own = Own()
    async with stage(tmp_path, bench(lane()), own_s=own, rule=ScreenSection(blank_after=Seconds(60.0))) as on:
        own.now_s += 600.0
        await on.show(bench(lane()))
        assert lit(on)


async def test_the_panel_follows_the_brightness_and_trouble_with_it_is_said(tmp_path):
    panel = tmp_path / "panel"
    panel.mkdir()
    (panel / "max_brightness").write_text("100")
    (panel / "brightness").write_text("100")
    (tmp_path / "screen-light").write_text("9")
    rule = ScreenSection(backlight=str(panel), backlight_most=0.5, tested="2031-05-04")
    async with stage(tmp_path, bench(), rule=rule) as on:
        assert (panel / "brightness").read_text() == "50\n"
        bright = on.screen.moment().red
        await on.press("minus")
        assert (panel / "brightness").read_text() == "42\n"
        assert on.screen.moment().red < bright
        assert on.screen.moment().tested == "2031-05-04"
        (panel / "max_brightness").unlink()
        on.screen._said = ""
        await on.press("minus")
        on.screen._said = ""
        await on.show(bench())
        assert "The backlight can not be set" in on.text()
        assert on.screen.moment().red < bright * 0.5


async def test_the_bell_rings_each_pattern_once_and_only_where_it_is_wanted(monkeypatch):
    rung: list[None] = []
    for wanted, expected in (("1", len(PATTERNS["call"])), ("0", 0)):
        rung.clear()
        monkeypatch.setenv("EMBERTRAY_BELL", wanted)
        monkeypatch.setattr("tui.bell.APART_S", 0.0)
        monkeypatch.setattr("tui.bell.strokes", lambda tune: [0.0] * len(PATTERNS[tune]))
        bell = Bell(lambda: rung.append(None))
        for number in (4, 5, 5):
            bell.hear(SoundView(number=number, tune="call"))
            await asyncio.sleep(0)
            await asyncio.sleep(0)
        assert len(rung) == expected


def test_strokes_stand_apart():
    for tune in PATTERNS:
        moments = strokes(tune)
        assert len(moments) == len(PATTERNS[tune])
        assert all(b - a >= 0.2 - 1e-9 for a, b in itertools.pairwise(moments))
