"""Long exposures that end by the light a sensor has seen: the dose, the ceiling, and a sensor that fails."""

from dataclasses import replace

import pytest

from firmware_py.bench.lamp.dose import DoseMeter, DoseRule
from firmware_py.devices.clock import SimulatedClock
from firmware_py.devices.light_sensor import Light, NoLight
from firmware_py.devices.simulated import SimulatedLightSensor
from firmware_py.facts.acts import print as pa
from firmware_py.facts.events import print as pe
from tests.bench.lamp_at_hand import LAG_S, RULE, LampAtHand

FULL, DARK = 900.0, 20.0
DOSE = DoseRule(FULL, DARK, from_s=20.0, ceiling_part=1.5)


def shown(level):
    return DARK + level * (FULL - DARK)


class Bench(LampAtHand):
    """A lamp with a sensor that is read ten times a second while it is lit; ``level`` is the lamp's light."""

    def __init__(self):
        super().__init__(replace(RULE, dose=DOSE))
        self.level = lambda lit_s: 1.0
        self.lit_s = 0.0
        self.sensor = SimulatedLightSensor(
            "cell", lambda _: shown(self.level(self.lit_s) if self.is_lit else 0.0), self.clock
        )
        self.look()

    def look(self):
        self.bench.light_is(self.sensor.read())
        self.bench.advance()
        self.carry_out()

    def expose(self, wanted_s, *, seconds=200):
        """Expose until the lamp goes out; return how long it was on [s]."""
        self.open_print()
        self.do(pa.SetBase(base_s=wanted_s))
        self.press()
        self.watch(seconds)
        return self.lit[-1].lasted_s

    def watch(self, seconds):
        for _ in range(round(seconds * 10)):
            if not self.is_lit:
                break
            self.lit_s += 0.1
            self.pass_s(0.1)
            self.look()

    def ended(self):
        (event,) = [e for e in self.events() if isinstance(e, pe.ExposureEnded)]
        return event

    def announced(self):
        return [e for e in self.events() if isinstance(e, pe.ExposureAnnounced)][-1]


@pytest.fixture
def bench():
    return Bench()


def test_in_full_light_the_dose_takes_as_long_as_by_time(bench):
    lasted_s = bench.expose(30.0)
    assert bench.announced().by_dose
    assert lasted_s == pytest.approx(30.0 + LAG_S, abs=0.005)
    assert bench.ended().why == "dose"
    assert bench.ended().dose_s == pytest.approx(30.0, abs=0.005)
    assert bench.outcome.sheets[0].ended == "finished"


def test_a_lamp_that_sags_is_on_for_longer_and_the_book_has_the_dose(bench):
    bench.level = lambda lit_s: 1.0 if lit_s < 10 else 0.8
    lasted_s = bench.expose(30.0)
    assert lasted_s == pytest.approx(10.0 + 20.0 / 0.8 + LAG_S, abs=0.15)
    assert bench.ended().dose_s == pytest.approx(30.0, abs=0.02)
    replayed = bench.replayed()
    assert replayed.sheets[0].exposures[0].effective_s == bench.ended().dose_s
    assert replayed == bench.last_record()


def test_the_ceiling_ends_what_gets_no_light_and_the_rest_is_owed(bench):
    bench.level = lambda lit_s: 0.1
    lasted_s = bench.expose(30.0)
    assert lasted_s == pytest.approx(1.5 * (30.0 + LAG_S) + 1.0)
    assert bench.ended().why == "ceiling"
    owed = bench.record.sheet.owed()
    assert owed.missing_s == pytest.approx(30.0 - 0.1 * lasted_s, abs=0.05)


def test_a_foot_that_breaks_it_off_leaves_the_rest_by_what_was_measured(bench):
    bench.level = lambda lit_s: 0.5
    bench.open_print()
    bench.do(pa.SetBase(base_s=40.0))
    bench.press()
    bench.watch(10.0)
    bench.foot(down=True)
    assert not bench.is_lit
    assert bench.ended().why == "stopped"
    assert bench.record.sheet.owed().missing_s == pytest.approx(40.0 - 5.0, abs=0.1)


def test_a_short_exposure_goes_by_time(bench):
    bench.level = lambda lit_s: 0.5
    assert bench.expose(8.0) == pytest.approx(8.0 + LAG_S)
    assert not bench.announced().by_dose
    assert bench.ended().dose_s is None


def test_a_sensor_that_is_silent_before_is_not_waited_for(bench):
    bench.sensor.trouble = "unplugged"
    bench.look()
    bench.pass_s(10.0)
    assert bench.expose(30.0) == pytest.approx(30.0 + LAG_S)
    assert bench.ended().why == "time"
    assert bench.ended().dose_s is None


def test_a_sensor_that_falls_silent_leaves_its_last_word(bench):
    bench.level = lambda lit_s: 0.8
    bench.open_print()
    bench.do(pa.SetBase(base_s=40.0))
    bench.press()
    bench.watch(10.0)
    bench.sensor.trouble = "unplugged"
    bench.watch(10.0)
    assert any("sensor is silent" in notice.words for notice in bench.bench.notices.all())
    bench.watch(100.0)
    assert bench.lit[-1].lasted_s == pytest.approx(40.0 / 0.8 + LAG_S, abs=0.15)


def test_before_its_first_word_the_light_is_taken_for_full():
    meter = DoseMeter(DOSE, lag_s=0.1)
    meter.heard(Light(shown(0.0), 99.0))
    assert meter.rule_for(30.0, 100.0) is DOSE
    meter.announce(30.0)
    assert meter.due_s() is None
    meter.begin(100.0)
    assert meter.due_s() == pytest.approx(130.1)
    assert meter.end(130.1) is None


@pytest.mark.parametrize("word", [Light(1e9, 1.0), Light(-900.0, 1.0), NoLight("unplugged", 1.0)])
def test_what_no_lamp_gives_is_no_word(word):
    meter = DoseMeter(DOSE, lag_s=0.0)
    meter.heard(word)
    assert meter.rule_for(30.0, 1.0) is None
    assert meter.trouble


def test_a_closed_sensor_shows_nothing():
    sensor = SimulatedLightSensor("cell", lambda _: 1.0, SimulatedClock())
    sensor.close()
    assert isinstance(sensor.read(), NoLight)
