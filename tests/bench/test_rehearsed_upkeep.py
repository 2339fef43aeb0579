"""Baths, heat, probes and the safelight in a whole rehearsal; and each fault of the heat."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from firmware_py.facts.events import heat as he
from firmware_py.facts.events import run as ev
from firmware_py.journal.store import Journal
from firmware_py.service.serving import rehearsal_plan, rehearse

Deeds = list[tuple[str, str]]
PLATE: Deeds = [
    ("0 s", 'open = { plate = "Skarnholm 4", routine = "metol-hydroquinone" }'),
    ("1 s", 'foot = "press"'),
]


async def play(folder: Path, deeds: Deeds) -> tuple[dict[str, Any], list[ev.AnyEvent]]:
    script = folder / "script.toml"
    lines = [f'[[deed]]\nat = "{at}"\n{deed}\n' for at, deed in deeds]
    script.write_text('title = "upkeep"\n' + "".join(lines), encoding="utf-8")
    state = folder / "state"
    plan = rehearsal_plan(state=state, script=script, trace=None, speed="max", unattended=True)
    came = await rehearse(plan)
    with Journal.open(state / "journal.db") as journal:
        happened = [entry.event for subject in journal.subjects() for entry in journal.read(subject)]
    return came, happened


def stopped_by(happened: list[ev.AnyEvent]) -> list[str]:
    return [event.watcher for event in happened if isinstance(event, he.HeatStopped)]


async def test_baths_are_made_used_and_judged(tmp_path: Path):
    """The shipped routine's words mean the shipped formulas: nobody names a bath."""
    deeds = [
        ("0 s", 'bath = { formula = "metol-hydroquinone", volume = "500 ml" }'),
        ("0 s", 'bath = { formula = "plain-hypo", volume = "1 l", fresh_clearing = "75 s" }'),
        *PLATE,
        ("2 s", "pull = true"),
        ("70 s", 'foot = "press"'),
        ("11 min", 'clearing = { bath = "plain-hypo 1", time = "3 min" }'),
    ]
    came, _ = await play(tmp_path, deeds)
    developer, fixer = came["baths"]
    assert developer["name"] == "metol-hydroquinone 1"
    assert (developer["runs"], fixer["runs"]) == (1, 1)
    assert developer["done_cm2"] == pytest.approx(4.75 * 6.5 * 6.4516)
    assert (fixer["clearing_s"], fixer["fresh_clearing_s"]) == (180.0, 75.0)
    assert came["refused"] == []


async def test_the_heater_holds_the_simulated_jacket(tmp_path: Path):
    """From 20.4 degC in a shed of 15 degC up to 22, with no watcher's word against it."""
    late = [("20 min", PLATE[0][1]), ("20 min", PLATE[1][1])]
    _, happened = await play(tmp_path, [("0 s", 'heat = "22 degC"'), *late])
    assert stopped_by(happened) == []
    read = [event.bath_degC for event in happened if isinstance(event, ev.TemperatureRead)]
    assert read[-1] == pytest.approx(22.0, abs=0.4)


@pytest.mark.parametrize(
    ("fault", "watcher"),
    [
        ("heater dead", "not warming"),
        ("heater relay stuck", "relay stuck"),
        ("jacket probe drifts", "relay stuck"),
        ("jacket probe silent", ""),
        ("jacket probe jumps", ""),
        ("jacket probe at 85 degC", ""),
    ],
)
async def test_each_fault_of_the_heat_has_its_outcome(tmp_path: Path, fault: str, watcher: str):
    """Stopped by its watcher, or waiting for a probe: never warmer than the limit; the plate is developed."""
    deeds = [
        ("0 s", 'heat = "21 degC"'),
        *PLATE[:1],
        ("1 s", 'foot = "press"'),
        ("60 s", f'fault = "{fault}"'),
        *([("2 min", 'heat = "off"')] if fault == "heater relay stuck" else []),
        *([("2 min", 'heat = "28 degC"')] if fault == "heater dead" else []),
        ("14 min", 'note = "still there"'),
    ]
    came, happened = await play(tmp_path, deeds)
    assert stopped_by(happened) == ([watcher] if watcher else [])
    assert came["runs"][0]["steps"][0]["ended"] == "time"
    assert came["refused"] == []
    warmest = max(event.bath_degC for event in happened if isinstance(event, ev.TemperatureRead))
    assert warmest < 28.0


async def test_a_probe_is_calibrated_in_a_script(tmp_path: Path):
    """The room's probe against a thermometer on the wall."""
    words = '{ probe = "room probe", against = "reference thermometer", reference = "15.2 degC" }'
    _, happened = await play(tmp_path, [("20 s", f"calibrate = {words}")])
    (calibrated,) = [event for event in happened if isinstance(event, he.ProbeCalibrated)]
    assert calibrated.offset_K == pytest.approx(0.2, abs=0.07)


async def test_a_panchromatic_plate_puts_the_safelight_out(tmp_path: Path):
    """And it can not be lit again: the script is told why."""
    deeds = [
        ("0 s", 'safelight = "on"'),
        *PLATE[:1],
        ("1 s", 'plate = { sensitivity = "panchromatic" }'),
        ("5 s", 'safelight = "on"'),
    ]
    came, happened = await play(tmp_path, deeds)
    switched = [event.on for event in happened if isinstance(event, ev.RelaySwitched)]
    assert switched == [True, False]
    (refused,) = came["refused"]
    assert refused.startswith("interlock 2: the safelight stays off while plate 'Skarnholm 4'")


async def test_heat_that_is_no_temperature_is_refused_before_anything_starts(tmp_path: Path):
    with pytest.raises(Exception, match="heat"):
        await play(tmp_path, [("0 s", 'heat = "warm"')])
    assert not (tmp_path / "state").exists()
