"""The process that clears the pins: levels in, driven lines out, and a plain word when it can not."""

import subprocess
import sys

import pytest

from firmware_py.devices.pin_record import read_record
from firmware_py.switchboard import make_safe


def test_every_line_is_driven_to_its_level(tmp_path):
    record = tmp_path / "pins.txt"
    words = make_safe.words_for("mock", str(record), {17: False, 22: True})
    command = [sys.executable, "-m", "firmware_py.switchboard.make_safe", *words]
    assert subprocess.run(command, check=False).returncode == 0
    assert [(entry.pin, entry.driven, entry.high) for entry in read_record(record)] == [
        (17, True, False),
        (22, True, True),
    ]


@pytest.mark.parametrize(
    "words",
    [
        [],
        ["wax"],
        ["mock", "17"],
        ["mock", "17=on"],
        ["mock", "lamp=low"],
        ["mock", "--record"],
        ["mock", "-1=low"],
    ],
)
def test_wrong_words_are_wrong_usage(words, capsys):
    assert make_safe.main(words) == 2
    assert "usage: make_safe" in capsys.readouterr().err


def test_a_line_that_fails_does_not_keep_the_next_from_being_driven(tmp_path, monkeypatch, capsys):
    driven = []

    def drive(levels, record):
        def one(pin, high):
            if pin == 17:
                raise OSError("GPIO busy")
            driven.append(pin)

        make_safe._each(levels, one)

    monkeypatch.setitem(make_safe._WAYS, "mock", (drive,))
    assert make_safe.main(["mock", "17=low", "22=high"]) == 1
    assert driven == [22]
    assert "pin 17: GPIO busy" in capsys.readouterr().err
