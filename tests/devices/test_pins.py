"""The way to the pins: never silently pretended, and without lgpio's side effects and pulses."""

import os
import subprocess
import sys
from types import SimpleNamespace
from typing import Any

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices import pins as pins_module
from firmware_py.devices.gpio_relay import GpioRelay
from firmware_py.devices.lgpio_chip import find_chip
from firmware_py.devices.pin_record import PinEntry, read_record
from firmware_py.devices.pins import KINDS, open_pins

pytest.importorskip("gpiozero")


def no_board():
    raise OSError("no GPIO chip")


def test_mock_pins_come_only_when_asked_for_by_name(monkeypatch):
    monkeypatch.setenv("GPIOZERO_PIN_FACTORY", "mock")
    monkeypatch.setattr(pins_module, "_OPENERS", {"lgpio": no_board, "rpigpio": no_board})
    for kind in set(KINDS) - {"mock"}:
        with pytest.raises(Refused, match="can not be opened"):
            open_pins(kind)
    assert open_pins("mock").kind == "mock"


def test_a_board_takes_the_first_way_that_opens_and_says_which(monkeypatch):
    monkeypatch.setattr(pins_module, "_OPENERS", {"lgpio": no_board, "rpigpio": lambda: "the pins"})
    opened = open_pins("board")
    assert (opened.kind, opened.factory) == ("rpigpio", "the pins")


def test_what_failed_is_said_for_every_way_tried(monkeypatch):
    monkeypatch.setattr(pins_module, "_OPENERS", {"lgpio": no_board, "rpigpio": no_board})
    with pytest.raises(Refused, match="lgpio: no GPIO chip; rpigpio: no GPIO chip"):
        open_pins("board")


@pytest.mark.parametrize(("kind", "record"), [("wax", None), ("", None), ("lgpio", "pins.txt")])
def test_an_unknown_way_or_a_record_of_real_pins_is_refused(kind, record):
    with pytest.raises(Refused, match="pins by"):
        open_pins(kind, record=record)


def test_a_record_tells_every_level_written_even_one_that_changes_nothing(tmp_path):
    record = tmp_path / "pins.txt"
    assert read_record(record) == []
    pin = open_pins("mock", record=record).factory.pin(17)
    pin.output_with_state(False)
    pin.state = 0
    pin.state = 1
    pin.function = "input"
    entries = read_record(record)
    assert [(entry.pin, entry.driven, entry.high) for entry in entries] == [
        (17, True, False),
        (17, True, False),
        (17, True, True),
        (17, False, False),
    ]
    assert all(isinstance(entry, PinEntry) for entry in entries)
    moments = [entry.at_s for entry in entries]
    assert moments == sorted(moments)


class FakeLgpio:
    """The few calls of lgpio that choose a chip."""

    error = OSError

    def __init__(self, labels):
        self.labels = labels
        self.open = set()

    def gpiochip_open(self, number):
        if self.labels[number] is None:
            raise OSError("no access")
        self.open.add(number)
        return number

    def gpio_get_chip_info(self, handle):
        return (0, 54, f"gpiochip{handle}", self.labels[handle])

    def gpiochip_close(self, handle):
        self.open.remove(handle)


@pytest.mark.parametrize(
    ("labels", "chosen"),
    [
        ({0: "pinctrl-bcm2835", 1: "raspberrypi-exp-gpio"}, 0),
        ({0: "gpio-brcmstb", 4: "pinctrl-rp1"}, 4),
        ({2: None, 10: "pinctrl-rp1", 11: "gpio-brcmstb"}, 10),
        ({3: "gpio-sim.0-node0"}, 3),
    ],
)
def test_the_chip_of_the_header_is_found_by_its_label(tmp_path, labels, chosen):
    for number in labels:
        (tmp_path / f"gpiochip{number}").touch()
    lgpio: Any = FakeLgpio(labels)
    assert find_chip(lgpio, tmp_path) == chosen
    assert lgpio.open == set()


def test_a_machine_without_a_chip_is_refused(tmp_path):
    lgpio: Any = FakeLgpio({})
    with pytest.raises(Refused, match="no GPIO chip"):
        find_chip(lgpio, tmp_path)


@pytest.fixture
def lgpio_calls(monkeypatch):
    """Let lgpio's calls be noted instead of made."""
    pytest.importorskip("lgpio", reason="lgpio is not installed here")
    from firmware_py.devices import lgpio_pins

    calls = []
    for name in ("gpio_claim_input", "gpio_claim_output", "gpio_write"):
        monkeypatch.setattr(lgpio_pins.lgpio, name, lambda *args, name=name: calls.append((name, args[1:])))
    monkeypatch.setattr(lgpio_pins.lgpio, "gpiochip_open", lambda number: number)
    monkeypatch.setattr(lgpio_pins.lgpio, "gpiochip_close", lambda handle: None)
    monkeypatch.setattr(lgpio_pins.lgpio, "gpio_get_mode", lambda handle, pin: 2)
    monkeypatch.setattr(lgpio_pins, "find_chip", lambda lgpio: 0)
    monkeypatch.setattr(lgpio_pins.SteadyFactory, "_get_revision", lambda self: 0xA02082)
    return calls


@pytest.mark.parametrize("active_high", [True, False])
def test_a_relay_on_lgpio_is_claimed_at_its_off_level_and_never_pulsed(lgpio_calls, active_high):
    pins = open_pins("lgpio")
    relay = GpioRelay("lamp", 17, pins, active_high=active_high)
    off, on = int(not active_high), int(active_high)
    claims = [(name, args) for name, args in lgpio_calls if name != "gpio_claim_input"]
    assert claims == [("gpio_claim_output", (17, off))]
    relay.on()
    relay.off()
    assert lgpio_calls[-2:] == [("gpio_write", (17, on)), ("gpio_write", (17, off))]
    relay.close()
    pins.factory.close()


QUIET_IMPORT = """
import os
from firmware_py.devices.lgpio_chip import import_lgpio
here, before = os.getcwd(), dict(os.environ)
lgpio = import_lgpio()
assert os.getcwd() == here, os.getcwd()
assert dict(os.environ) == before
print(lgpio.gpiochip_open.__name__)
"""


@pytest.mark.parametrize("working_folder", ["/proc", None])
def test_lgpio_is_imported_from_any_folder_and_leaves_nothing_behind(tmp_path, working_folder):
    pytest.importorskip("lgpio", reason="lgpio is not installed here")
    words = [sys.executable, "-c", QUIET_IMPORT]
    environment = {**os.environ, "TMPDIR": str(tmp_path), "PYTHONPATH": os.pathsep.join(sys.path)}
    environment.pop("XDG_RUNTIME_DIR", None)
    run = subprocess.run(
        words, cwd=working_folder or tmp_path, env=environment, capture_output=True, text=True, check=False
    )
    assert run.stdout == "gpiochip_open\n", run.stderr
    assert list(tmp_path.iterdir()) == []


def test_a_machine_without_lgpio_is_told_so(monkeypatch):
    monkeypatch.setitem(sys.modules, "firmware_py.devices.lgpio_pins", None)
    with pytest.raises(Refused, match=r"import of firmware_py\.devices\.lgpio_pins halted"):
        open_pins("lgpio")


DEVICES_IMPORT = """
import sys
import firmware_py.devices, firmware_py.devices.relay, firmware_py.devices.probe
import firmware_py.devices.foot_switch, firmware_py.devices.sounder, firmware_py.devices.clock
import firmware_py.devices.onewire, firmware_py.devices.by_hand, firmware_py.devices.pins
print(*sorted({name.partition(".")[0] for name in sys.modules}))
"""


def test_the_room_of_devices_is_light_until_a_real_pin_is_wanted():
    run = subprocess.run([sys.executable, "-c", DEVICES_IMPORT], capture_output=True, text=True, check=True)
    heavy = {"gpiozero", "lgpio", "pint", "msgspec", "textual", "numpy", "sqlite3"}
    assert heavy & set(run.stdout.split()) == set()


def test_the_chip_door_is_what_lgpio_offers():
    """The fake above stands for a real module: it must have the calls we make."""
    lgpio = pytest.importorskip("lgpio", reason="lgpio is not installed here")
    fake = SimpleNamespace(names=[name for name in vars(FakeLgpio) if name.startswith("gpio")])
    assert all(callable(getattr(lgpio, name)) for name in fake.names)
