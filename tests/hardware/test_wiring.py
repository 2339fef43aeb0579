"""The pin table, and everything that has to agree with it: bench.toml, boot settings, pictures, manual."""

import re
import tomllib
from pathlib import Path

import pytest

from firmware_py.bench.bench_settings import relay_wirings
from firmware_py.settings import read_settings
from firmware_py.switchboard.rules import wirings_by_name
from hardware.wiring.pins import HEADER, read_lines, read_supplies

schemdraw = pytest.importorskip("schemdraw", reason="schemdraw is not here (extra: test)")

from hardware.wiring.__main__ import DRAWN, PICTURES, picture  # noqa: E402 - needs schemdraw

ROOT = Path(__file__).parents[2]
HARDWARE = ROOT / "hardware"
LINES = read_lines()


def table_in(text, key):
    """Return the table called ``key`` (``relay.heater``) of TOML text; its lines may be commented out."""
    found = tomllib.loads(re.sub(r"^# (?=\[|\w+ = )", "", text, flags=re.MULTILINE))
    for part in key.split("."):
        found = found[part]
    return found


def test_the_header_has_every_line_of_the_board_once():
    numbers = [place for place in HEADER if isinstance(place, int)]
    assert len(HEADER) == 40
    assert sorted(numbers) == list(range(28))
    assert (HEADER.count("3.3 V"), HEADER.count("5 V"), HEADER.count("ground")) == (2, 2, 8)


def test_the_header_is_the_one_that_gpiozero_knows():
    # Outside check: gpiozero's own table of the same boards (its data for revision a02082).
    from gpiozero import PiBoardInfo

    theirs = PiBoardInfo.from_revision(0xA02082).headers["J8"].pins
    names = {"3V3": "3.3 V", "5V": "5 V", "GND": "ground"}
    read = [names.get(theirs[place].name) or int(theirs[place].name.removeprefix("GPIO")) for place in theirs]
    assert tuple(read) == HEADER


@pytest.mark.parametrize("line", LINES.values(), ids=lambda line: line.name)
def test_a_line_is_at_the_place_that_the_table_says(line):
    assert HEADER[line.header - 1] == line.bcm
    assert line.at_reset == ("up" if line.bcm <= 8 else "down")


@pytest.mark.parametrize("line", LINES.values(), ids=lambda line: line.name)
def test_nothing_is_switched_on_while_no_program_runs(line):
    if line.way == "out":
        assert (line.at_reset, line.at_rest) == ("down", "low")


def test_every_supply_is_where_the_table_says_and_no_place_is_used_twice():
    assert all(HEADER[supply.header - 1] == supply.name for supply in read_supplies())
    places = [line.header for line in LINES.values()] + [supply.header for supply in read_supplies()]
    assert len(set(places)) == len(places)


@pytest.mark.parametrize("line", [line for line in LINES.values() if line.key], ids=lambda line: line.name)
def test_the_default_bench_is_wired_by_the_table(line):
    table = table_in((HARDWARE / "bench.toml").read_text("utf-8"), line.key)
    assert table["pin"] == line.bcm
    # Active high, by default and by the table: off is the level that the line has at reset.
    assert "active_high" not in table


def test_the_default_bench_is_one_that_the_program_takes():
    settings = read_settings(HARDWARE / "bench.toml")
    relays = wirings_by_name(relay_wirings(settings))
    assert {name: relay.pin for name, relay in relays.items()} == {
        "safelight": LINES["safelight"].bcm,
        "printing-lamp": LINES["printing lamp"].bcm,
    }
    assert all(relay.active_high for relay in relays.values())


def test_the_boot_settings_hold_every_line_at_rest_before_the_kernel_runs():
    text = (HARDWARE / "boot" / "config.txt").read_text("utf-8")
    held: dict[int, str] = {}
    for numbers, way in re.findall(r"^gpio=([\d,]+)=([\w,]+)$", text, re.MULTILINE):
        held |= {int(number): way for number in numbers.split(",")}
    wanted = {
        line.bcm: "op,dl" if line.way == "out" else "ip,pu" for line in LINES.values() if line.way != "bus"
    }
    assert held == wanted
    assert f"dtoverlay=w1-gpio,gpiopin={LINES['thermometers'].bcm}\n" in text
    assert "dtparam=strict_gpiod\n" in text


def test_the_manual_prints_the_table():
    text = (ROOT / "docs" / "hardware-wiring.md").read_text("utf-8")
    for line in LINES.values():
        assert f"| {line.name} | {line.bcm} | {line.header} | {line.at_reset} | {line.what} |\n" in text
    for supply in read_supplies():
        assert f"| {supply.name} | | {supply.header} | | {supply.what} |\n" in text


@pytest.mark.parametrize("name", DRAWN)
def test_the_pictures_in_the_manual_are_drawn_from_the_table(name):
    assert (PICTURES / f"{name}.svg").read_text("utf-8") == picture(name), "run python -m hardware.wiring"
    assert f"(hardware/{name}.svg)" in (ROOT / "docs" / "hardware-wiring.md").read_text("utf-8")


@pytest.mark.parametrize("name", ["header", "low-voltage", "relay", "small-parts"])
def test_a_picture_names_the_lines_it_shows(name):
    shown = {int(number) for number in re.findall(r"GPIO (\d+)", picture(name))}
    relays = {LINES[each].bcm for each in ("safelight", "printing lamp", "heater")}
    touched = {LINES[each].bcm for each in ("sounder", "foot switch", "thermometers")}
    wanted = {"header": relays | touched, "small-parts": touched}.get(name, relays)
    assert shown == wanted
