"""The Bench page: devices, faults with what to do, and every sound; it switches nothing."""

from __future__ import annotations

import msgspec

from firmware_py.facts.acts.run import PlaySound
from firmware_py.facts.tunes import MEANINGS, PATTERNS
from firmware_py.facts.views.bench import NoticeView
from firmware_py.service.client import LinkLost
from tests.tui.pages.stage import stage
from tests.tui.sample_bench import NOW_S
from tests.tui.sample_devices import DEVICES, SILENT, wired_bench
from tui.pages.shared.page import Page


async def turned(on, *views):
    await on.show(*views)
    await on.turn_to("bench")


async def test_every_device_is_shown_as_it_is_and_a_fault_with_what_to_do(tmp_path):
    async with stage(tmp_path, wired_bench(SILENT), size=(120, 36), own_s=0.0) as on:
        await turned(on)
        text = on.text()
        for words in (
            "tray        tray 1  19.6 °C ±0.5",
            "calibrated 2030-11-02, offset +0.20 K",
            "NO READING: no answer on the",
            "not calibrated yet; one-wire 28-0123456789ac",
            "■ safelight     ON  pin 17, a person asked",
            "· printing lamp off pin 22, safe since start",
            "switchboard ready, pins by lgpio",
            "foot switch up, pin 27",
            "sounder     pin 12",
            "open; heard just now; version 0.1.0",
            "light 6 of 9 is red",
            "NOT TESTED with a",
            "! Probe jacket is silent: no answer on the bus",
            "→ Dry plug and cable",
        ):
            assert words in text, words
        assert text.count("is silent") == 1


async def test_on_a_small_screen_the_rest_is_a_key_away(tmp_path):
    async with stage(tmp_path, wired_bench(SILENT), own_s=0.0) as on:
        await turned(on)
        assert "D: further down" in on.text()
        assert "controller  open" not in on.text()
        await on.press("d")
        assert "controller  open" in on.text()
        await on.press("d")
        assert "PROBES" in on.text()


async def test_every_sound_can_be_played_and_nothing_else_is_asked(tmp_path):
    async with stage(tmp_path, wired_bench(), own_s=0.0) as on:
        await turned(on)
        for tune in PATTERNS:
            assert f"{tune}: " in on.text()
            await on.press("enter", "down")
        assert on.link.asked == [PlaySound(tune=tune) for tune in PATTERNS]
        on.link.asked.clear()
        on.screen._pressed.clear()
        await on.press("up", "enter", "space", "p", "x", "f", "1")
        assert on.link.asked == [PlaySound(tune="call")]


async def test_all_meanings_stand_beside_the_sounds_where_there_is_room(tmp_path):
    async with stage(tmp_path, wired_bench(), size=(120, 36)) as on:
        await turned(on)
        assert [words for words in MEANINGS.values() if words not in on.text()] == []
        assert "No fault stands." in on.text()


async def test_trouble_of_the_foot_the_line_and_the_versions_stands_out(tmp_path):
    stuck = tuple(
        msgspec.structs.replace(device, state="stays down: release it", trouble=True)
        if device.kind == "foot switch"
        else device
        for device in DEVICES
    )
    view = msgspec.structs.replace(wired_bench(), devices=stuck, program="0.0.9")
    async with stage(tmp_path, view, size=(120, 36)) as on:
        await turned(on)
        assert "foot switch ! stays down: release it" in on.text()
        assert "0.0.9, THIS SCREEN 0.1.0" in " ".join(on.text().split())
        await on.show(LinkLost("it went"))
        assert "controller  LOST for 0:00" in on.text()
        assert "BENCH DISCONNECTED" in on.text()


async def test_hostile_words_do_not_break_the_page(tmp_path):
    hostile = NoticeView(
        words="\x1b[32m[bold green]" + "y" * 900, since_s=NOW_S, trouble=True, to_do="\u202e"
    )
    async with stage(tmp_path, wired_bench(*[hostile] * 9)) as on:
        await turned(on)
        assert {len(row) for row in on.text().splitlines()} == {80}
        assert isinstance(on.screen.screen, Page)
