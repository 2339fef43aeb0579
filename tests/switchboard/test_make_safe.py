"""The process that clears the pins: levels in, driven lines out, and a plain word when it can not."""

import subprocess
import sys
from types import SimpleNamespace

import pytest

from firmware_py.bench.bench_settings import relay_wirings
from firmware_py.devices import lgpio_chip
from firmware_py.devices.pin_record import read_record
from firmware_py.settings import read_settings
from firmware_py.switchboard import make_safe
from tests.service.served_bench import wait_for


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


def test_a_line_that_is_still_held_is_tried_until_its_holder_has_gone(tmp_path):
    record = tmp_path / "pins.txt"
    code = "import sys; from firmware_py.devices.pin_record import PinRecord\n"
    code += "PinRecord(sys.argv[1]).drive(17, high=True); print('held', flush=True); sys.stdin.read(1)"
    pipe = subprocess.PIPE
    with subprocess.Popen([sys.executable, "-c", code, str(record)], stdin=pipe, stdout=pipe) as holder:
        assert holder.stdout is not None
        assert holder.stdout.readline() == b"held\n"
        words = make_safe.words_for("mock", str(record), {17: False, 22: False})
        with subprocess.Popen([sys.executable, "-m", "firmware_py.switchboard.make_safe", *words]) as clearer:
            wait_for(lambda: len(read_record(record)) == 2)
            assert clearer.poll() is None
            holder.kill()
            assert clearer.wait() == 0
    assert [(entry.pin, entry.high) for entry in read_record(record)] == [
        (17, True),
        (22, False),
        (17, False),
    ]


def test_a_line_that_fails_does_not_keep_the_next_from_being_driven(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(make_safe, "BUSY_S", 0.0)
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


def test_by_lgpio_a_line_is_claimed_at_its_safe_level_in_one_step(monkeypatch):
    calls = []

    def open_chip(number):
        calls.append(("open", number))
        return number + 50

    fake = SimpleNamespace(
        gpiochip_open=open_chip,
        gpio_claim_output=lambda *words: calls.append(("claim", *words)),
    )
    monkeypatch.setattr(lgpio_chip, "import_lgpio", lambda: fake)
    monkeypatch.setattr(lgpio_chip, "find_chip", lambda lgpio: 4)
    assert make_safe.main(["lgpio", "17=low", "22=high"]) == 0
    assert calls == [("open", 4), ("claim", 54, 17, 0), ("claim", 54, 22, 1)]


def test_by_the_older_library_a_line_is_set_up_at_its_safe_level_in_one_step(monkeypatch):
    calls: list[object] = []
    fake = SimpleNamespace(
        BCM="bcm",
        OUT="out",
        setwarnings=lambda on: None,
        setmode=calls.append,
        setup=lambda pin, way, initial: calls.append((pin, way, initial)),
    )
    monkeypatch.setitem(sys.modules, "RPi", SimpleNamespace(GPIO=fake))
    monkeypatch.setitem(sys.modules, "RPi.GPIO", fake)
    assert make_safe.main(["rpigpio", "17=low", "22=high"]) == 0
    assert calls == ["bcm", (17, "out", False), (22, "out", True)]


def test_an_unknown_board_tries_both_ways_and_names_both_failures(monkeypatch, capsys):
    def no_chip():
        raise OSError("no GPIO chip")

    monkeypatch.setattr(lgpio_chip, "import_lgpio", no_chip)
    monkeypatch.setitem(sys.modules, "RPi.GPIO", None)
    assert make_safe.main(["board", "17=low"]) == 1
    said = capsys.readouterr().err
    assert "no GPIO chip" in said
    assert "RPi.GPIO" in said


def written(folder, text):
    path = folder / "bench.toml"
    path.write_text(text, encoding="utf-8")
    return path


def test_the_relays_of_a_bench_file_are_driven_to_the_levels_that_its_settings_mean(tmp_path):
    record = tmp_path / "pins.txt"
    path = written(
        tmp_path,
        f"""
        bench = {{ pins = "mock", pin_record = "{record}" }}
        sounder = {{ body = "gpio", pin = 24 }}
        [relay.safelight]
        pin = 17
        active_high = false
        [relay.printing-lamp]
        pin = 22
        """,
    )
    assert make_safe.main(["--config", str(path)]) == 0
    driven = {entry.pin: entry.high for entry in read_record(record)}
    meant = {wiring.pin: not wiring.active_high for wiring in relay_wirings(read_settings(path))}
    assert driven == meant == {17: True, 22: False}


@pytest.mark.parametrize(
    "text", ["[relay", "[relay.lamp]\npin = 'x'", "relay = 3", "[relay.lamp]\npin = 1\nactive_high = 'no'"]
)
def test_a_bench_file_without_sense_is_refused_in_one_line(tmp_path, capsys, text):
    path = written(tmp_path, text)
    assert make_safe.main(["--config", str(path)]) == 1
    said = capsys.readouterr().err
    assert said.startswith("lines not made safe: ")
    assert str(path) in said
    assert said.count("\n") == 1


def test_a_bench_file_that_is_missing_is_refused(tmp_path, capsys):
    assert make_safe.main(["--config", str(tmp_path / "none.toml")]) == 1
    assert "No such file" in capsys.readouterr().err
