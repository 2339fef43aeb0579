"""What `embertray check` says of devices that are named and not there."""

import os

import pytest

from firmware_py.service.checking import check

BENCH = """
[bench]
pins = "mock"

[probe.stream]
body = "serial-lines"
port = "{port}"

[foot-switch]
body = "usb"
device = "{device}"
"""


@pytest.fixture
def evdev_is_there(monkeypatch):
    """Let the library be found: the tests' own machine need not have it, nobody reads a pedal here."""
    monkeypatch.setattr("importlib.util.find_spec", lambda name: object())


def findings(tmp_path, **named):
    path = tmp_path / "bench.toml"
    path.write_text(BENCH.format(**named), encoding="utf-8")
    return {finding.what: finding.wrong for finding in check(path)}


@pytest.mark.usefixtures("evdev_is_there")
def test_a_port_and_a_pedal_that_are_there_are_in_order(tmp_path):
    found = findings(tmp_path, port=os.devnull, device=os.devnull)
    assert found["probe stream"] == found["foot switch"] == ""


@pytest.mark.usefixtures("evdev_is_there")
def test_a_port_and_a_pedal_that_are_missing_are_named(tmp_path):
    found = findings(tmp_path, port="/dev/none-1", device="/dev/none-2")
    assert found["probe stream"] == "there is no port /dev/none-1"
    assert found["foot switch"] == "/dev/none-2 is not there"


def test_without_the_library_a_pedal_can_not_be_read(tmp_path, monkeypatch):
    monkeypatch.setattr("importlib.util.find_spec", lambda name: None)
    assert "python3-evdev" in findings(tmp_path, port=os.devnull, device=os.devnull)["foot switch"]
