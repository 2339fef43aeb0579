"""What any sounder must do, run over every body; and what the line of a real one shows."""

import queue

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices import gpio_sounder
from firmware_py.devices.gpio_sounder import GpioSounder
from firmware_py.devices.pins import open_pins
from firmware_py.devices.silent_sounder import SilentSounder
from firmware_py.facts.tunes import PATTERNS, URGENCY, Beep

PATIENCE_S = 20.0


class SounderContract:
    """Playing never waits, closing hushes and may be done twice."""

    @pytest.fixture
    def sounder(self):
        raise NotImplementedError

    def test_every_tune_can_be_played_over_the_one_before(self, sounder):
        for tune in PATTERNS:
            sounder.play(tune)

    def test_closing_twice_changes_nothing(self, sounder):
        sounder.play("now")
        sounder.close()
        sounder.close()


class TestSilentSounder(SounderContract):
    @pytest.fixture
    def sounder(self):
        return SilentSounder("beeper")

    def test_it_remembers_what_it_was_asked_for(self, sounder):
        sounder.play("soon")
        sounder.play("now")
        assert sounder.played == ["soon", "now"]


class TestTonalSounder(SounderContract):
    @pytest.fixture
    def sounder(self):
        sounder = GpioSounder("beeper", 18, open_pins("mock"))
        yield sounder
        sounder.close()


class TestPlainSounder(SounderContract):
    @pytest.fixture
    def sounder(self):
        sounder = GpioSounder("beeper", 18, open_pins("mock"), tonal=False)
        yield sounder
        sounder.close()


class ListeningPin:
    """Hears what a sounder does to its pin, in order."""

    def __init__(self, pins, monkeypatch):
        self.events: queue.Queue[object] = queue.Queue()
        pin_class = pins.factory.pin_class
        before = pin_class._change_state

        def changed(pin, value):
            if before(pin, value):
                self.events.put((float(value), pin._frequency))

        monkeypatch.setattr(pin_class, "_change_state", changed)

    def next(self):
        return self.events.get(timeout=PATIENCE_S)


def test_a_piezo_is_given_the_pitch_of_each_beep_and_falls_silent_between(monkeypatch):
    monkeypatch.setattr(gpio_sounder, "PATTERNS", {"soon": (Beep(0.01, 0.01, 440.0), Beep(0.01, 0.0, 880.0))})
    pins = open_pins("mock")
    pin = ListeningPin(pins, monkeypatch)
    sounder = GpioSounder("beeper", 18, pins)
    sounder.play("soon")
    heard = [pin.next() for _ in range(4)]
    sounder.close()
    assert heard == [(0.5, 440.0), (0.0, None), (0.5, 880.0), (0.0, None)]


def test_a_new_tune_cuts_off_the_one_that_sounds_and_closing_hushes(monkeypatch):
    endless = Beep(3600.0, 0.0, 440.0)
    monkeypatch.setattr(gpio_sounder, "PATTERNS", {"soon": (endless,), "now": (Beep(3600.0, 0.0, 880.0),)})
    pins = open_pins("mock")
    pin = ListeningPin(pins, monkeypatch)
    sounder = GpioSounder("beeper", 18, pins)
    sounder.play("soon")
    assert pin.next() == (0.5, 440.0)
    sounder.play("now")
    assert pin.next() == (0.0, None)
    assert pin.next() == (0.5, 880.0)
    sounder.close()
    assert pin.next() == (0.0, None)


def test_a_less_urgent_tune_waits_until_the_other_is_through(monkeypatch):
    """The end of a development is never cut short by a call to rock another tray."""
    patterns = {"left": (Beep(0.01, 0.0, 660.0),), "now": (Beep(0.2, 0.0, 880.0),)}
    monkeypatch.setattr(gpio_sounder, "PATTERNS", patterns)
    pins = open_pins("mock")
    pin = ListeningPin(pins, monkeypatch)
    sounder = GpioSounder("beeper", 18, pins)
    sounder.play("now")
    sounder.play("left")
    heard = [pin.next() for _ in range(4)]
    sounder.close()
    assert heard == [(0.5, 880.0), (0.0, None), (0.5, 660.0), (0.0, None)]


def test_every_tune_has_a_rhythm_of_its_own():
    """A buzzer with a single pitch must tell them apart: clicks, dots and dashes."""
    rhythms = {
        tune: "".join("," if b.on_s < 0.05 else "." if b.on_s < 0.2 else "-" for b in beeps)
        for tune, beeps in PATTERNS.items()
    }
    rhythms["now"] = "="  # twice as long as any dash
    assert {b.on_s for b in PATTERNS["now"]} == {0.8}
    assert max(b.on_s for tune, beeps in PATTERNS.items() if tune != "now" for b in beeps) <= 0.4
    assert len(set(rhythms.values())) == len(PATTERNS) == len(URGENCY)


def test_a_buzzer_follows_the_rhythm_alone(monkeypatch):
    monkeypatch.setattr(gpio_sounder, "PATTERNS", {"now": (Beep(0.01, 0.01, 440.0), Beep(0.01, 0.0, 880.0))})
    pins = open_pins("mock")
    pin = ListeningPin(pins, monkeypatch)
    sounder = GpioSounder("beeper", 18, pins, tonal=False)
    sounder.play("now")
    heard = [pin.next() for _ in range(4)]
    sounder.close()
    assert heard == [(1.0, None), (0.0, None), (1.0, None), (0.0, None)]


def test_a_second_owner_of_the_line_is_refused():
    pins = open_pins("mock")
    sounder = GpioSounder("beeper", 18, pins)
    with pytest.raises(Refused, match="pin 18 for sounder 'other'"):
        GpioSounder("other", 18, pins)
    sounder.close()
