"""Reads everything a bench is told by files, and says of each whether it holds; starts nothing."""

from __future__ import annotations

import importlib.util
import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

from firmware_py.bench.bench_settings import relay_wirings
from firmware_py.bench.routines import read_routine, shipped_routines
from firmware_py.bench.vocabulary import read_vocabulary, shipped_vocabulary
from firmware_py.craft.refusal import Refused
from firmware_py.settings import Settings, read_settings
from firmware_py.settings.paths import settings_path
from firmware_py.switchboard.rules import wirings_by_name

# Some kernels keep a dead process's outputs driven; they say so here.
PERSISTENCE = Path("/sys/module/pinctrl_bcm2835/parameters/persist_gpio_outputs")


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that was looked at: ``wrong`` says what is not right with it, or nothing."""

    what: str
    wrong: str = ""
    advice: str = ""


def check(config: Path | None) -> Iterator[Finding]:
    """Give a finding for the settings, each routine, the relays, probes, foot switch and pins."""
    path = config or settings_path()
    if path is None:
        yield Finding("bench.toml", advice="none found: `embertray` opens the simulated bench")
        yield from _routines(None)
        return
    settings: list[Settings] = []
    yield _tried(f"settings {path}", lambda: settings.append(read_settings(path)))
    yield from _routines(settings[0] if settings else None)
    if settings:
        yield _tried("relays", lambda: wirings_by_name(relay_wirings(settings[0])))
        yield from _probes(settings[0])
        yield from _light(settings[0])
        yield from _foot(settings[0])
        yield from _pins(settings[0])


def _tried(what: str, read: Callable[[], object]) -> Finding:
    try:
        read()
    except Refused as refusal:
        return Finding(what, refusal.line)
    return Finding(what)


def _routines(settings: Settings | None) -> Iterator[Finding]:
    words = shipped_vocabulary()
    if settings is not None and settings.bench.marks is not None:
        marks = Path(settings.bench.marks)
        found = _tried(f"marks {marks}", lambda: read_vocabulary(marks))
        yield found
        words = words if found.wrong else read_vocabulary(marks)
    yield _tried("shipped routines", lambda: shipped_routines(words))
    folder = settings.bench.routines if settings else None
    for path in sorted(Path(folder).glob("*.toml")) if folder else ():
        yield _tried(f"routine {path.stem}", lambda path=path: read_routine(path, words))  # type: ignore[misc]


def _probes(settings: Settings) -> Iterator[Finding]:
    for name, probe in settings.probe.items():
        if probe.port is not None:
            there = Path(probe.port).exists()
            yield Finding(f"probe {name}", "" if there else f"there is no port {probe.port}")
        elif probe.serial is None:
            yield Finding(f"probe {name}", advice="read by hand")
        elif (Path(probe.folder) / probe.serial / "w1_slave").exists():
            yield Finding(f"probe {name}")
        else:
            yield Finding(f"probe {name}", f"{probe.serial} is not on the bus in {probe.folder}")


def _light(settings: Settings) -> Iterator[Finding]:
    port = settings.light_sensor.port
    if port is not None:
        yield Finding("light sensor", "" if Path(port).exists() else f"there is no port {port}")


def _foot(settings: Settings) -> Iterator[Finding]:
    device = settings.foot_switch.device
    if device is None:
        return
    if importlib.util.find_spec("evdev") is None:
        yield Finding("foot switch", "the library evdev is not installed: the system's package python3-evdev")
    elif not os.access(device, os.R_OK):
        there = "may not be read: the group input may" if Path(device).exists() else "is not there"
        yield Finding("foot switch", f"{device} {there}")
    else:
        yield Finding("foot switch")


def _pins(settings: Settings) -> Iterator[Finding]:
    kind = settings.bench.pins
    if kind == "mock":
        yield Finding("pins", advice="mock: nothing is really switched")
        return
    if PERSISTENCE.exists() and PERSISTENCE.read_text(encoding="ascii").strip() == "Y":
        yield Finding(
            "pins",
            advice="this kernel keeps the outputs of a dead process driven: set dtparam=strict_gpiod",
        )
