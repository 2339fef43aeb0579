"""What any relay must do, run over every body; and what the line of a real one must show."""

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices.by_hand import HandRelay
from firmware_py.devices.gpio_relay import GpioRelay
from firmware_py.devices.pin_record import read_record
from firmware_py.devices.pins import open_pins
from firmware_py.devices.simulated import SimulatedRelay


class RelayContract:
    """Off at birth, off after close, and off as often as one likes."""

    def relay(self):
        raise NotImplementedError

    def test_it_is_off_at_birth(self):
        assert self.relay().is_on is False

    def test_it_goes_on_and_off(self):
        relay = self.relay()
        relay.on()
        assert relay.is_on
        relay.off()
        assert not relay.is_on

    def test_switching_off_twice_changes_nothing(self):
        relay = self.relay()
        relay.off()
        relay.off()
        assert not relay.is_on

    def test_it_is_off_after_closing_and_may_still_be_told_so(self):
        relay = self.relay()
        relay.on()
        relay.close()
        assert not relay.is_on
        relay.off()
        relay.close()
        assert not relay.is_on


class TestSimulatedRelay(RelayContract):
    def relay(self):
        return SimulatedRelay("lamp")


class TestHandRelay(RelayContract):
    def relay(self):
        return HandRelay("lamp")


class TestGpioRelay(RelayContract):
    def relay(self):
        return GpioRelay("lamp", 17, open_pins("mock"))


class TestActiveLowGpioRelay(RelayContract):
    def relay(self):
        return GpioRelay("lamp", 17, open_pins("mock"), active_high=False)


def test_a_relay_by_hand_asks_once_for_each_change():
    words: list[str] = []
    relay = HandRelay("safelight", tell=words.append)
    relay.on()
    relay.on()
    relay.close()
    assert words == ["switch the safelight on", "switch the safelight off"]


@pytest.mark.parametrize("active_high", [True, False])
def test_the_line_is_never_at_its_active_level_but_when_asked(tmp_path, active_high):
    record = tmp_path / "pins.txt"
    relay = GpioRelay("lamp", 17, open_pins("mock", record=record), active_high=active_high)
    relay.on()
    relay.close()
    levels = [(entry.driven, entry.high) for entry in read_record(record)]
    off, on = (True, not active_high), (True, active_high)
    assert levels == [off, on, off, (False, False)]


def test_two_owners_of_one_line_are_refused():
    pins = open_pins("mock")
    first = GpioRelay("lamp", 17, pins)
    with pytest.raises(Refused, match=r"pin 17 for relay 'safelight'.*already in use"):
        GpioRelay("safelight", 17, pins)
    first.close()


def test_a_pin_that_the_board_does_not_have_is_refused():
    with pytest.raises(Refused, match="pin 99"):
        GpioRelay("lamp", 99, open_pins("mock"))
