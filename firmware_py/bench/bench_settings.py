"""What the settings say of routines, relays, foot and lamp, as the bench takes it."""

from __future__ import annotations

from pathlib import Path

from firmware_py import __version__
from firmware_py.bench.bench import BenchPlan
from firmware_py.bench.foot import FootRule
from firmware_py.bench.lamp.dose import DoseRule
from firmware_py.bench.lamp.lamp_rule import LONGEST_ON_S, PRINTING_LAMP, LampRule
from firmware_py.bench.routines import plates_first, routines_in, shipped_routines
from firmware_py.bench.upkeep.upkeep_settings import upkeep_plan
from firmware_py.bench.vocabulary import Vocabulary, read_vocabulary, shipped_vocabulary
from firmware_py.bench.warmth.heat_facts import HEATER
from firmware_py.bench.wired_settings import wired
from firmware_py.craft.lamp import Lag
from firmware_py.craft.routine import Routine
from firmware_py.settings import RelaySection, Settings
from firmware_py.switchboard.commands import RelayWiring


def bench_plan(settings: Settings) -> BenchPlan:
    """Return what stands on the bench that the settings describe."""
    return BenchPlan(
        routines=all_routines(settings),
        vocabulary=vocabulary(settings),
        trays={name: probe.place for name, probe in settings.probe.items()},
        relays=tuple(settings.relay),
        upkeep=upkeep_plan(settings),
        foot=FootRule(long_press_s=float(settings.foot_switch.long_press)),
        lamp=lamp_rule(settings),
        program=__version__,
        wired=wired(settings),
    )


def lamp_rule(settings: Settings) -> LampRule:
    """Return what the settings say of the printing lamp."""
    lamp, relay = settings.lamp, settings.relay.get(PRINTING_LAMP)
    longest_s = relay.longest_on if relay is not None and relay.longest_on is not None else LONGEST_ON_S
    return LampRule(
        name=lamp.name,
        lag=Lag(float(lamp.lag), float(lamp.lag_doubt), float(lamp.shortest)),
        mains_Hz=None if lamp.mains is None else float(lamp.mains.split()[0]),
        distance_mm=None if lamp.distance is None else float(lamp.distance),
        longest_on_s=float(longest_s),
        bulb_ceiling_s=float(lamp.bulb_ceiling),
        pause_s=float(lamp.pause),
        safelight=lamp.safelight,
        warm_up=tuple((float(time_s), light) for time_s, light in lamp.warm_up),
        dose=dose_rule(settings),
    )


def dose_rule(settings: Settings) -> DoseRule | None:
    """Return what the settings say of the light sensor, None where there is none."""
    said = settings.light_sensor
    if said.full is None:
        return None
    return DoseRule(said.full, said.dark, float(said.exposures_from), said.ceiling)


def all_routines(settings: Settings) -> dict[str, Routine]:
    """Return the shipped routines and the user's own; one of the user's with the same name counts."""
    words = vocabulary(settings)
    own = routines_in(Path(settings.bench.routines), words) if settings.bench.routines else {}
    return plates_first({**shipped_routines(words), **own})


def vocabulary(settings: Settings) -> Vocabulary:
    """Return the marks and phrases of the bench: the user's own list, or the shipped one."""
    return read_vocabulary(Path(settings.bench.marks)) if settings.bench.marks else shipped_vocabulary()


def relay_wirings(settings: Settings) -> tuple[RelayWiring, ...]:
    """Return how the relays are wired."""
    stays_s = float(settings.heater.stay_limit)
    return tuple(_wiring(name, relay, stays_s) for name, relay in settings.relay.items())


def _wiring(name: str, relay: RelaySection, heater_stays_s: float) -> RelayWiring:
    is_lamp = name == PRINTING_LAMP
    ceiling_s = float(relay.longest_on) if relay.longest_on is not None else LONGEST_ON_S
    return RelayWiring(
        name,
        pin=relay.pin,
        active_high=relay.active_high,
        ceiling_s=ceiling_s if is_lamp else None,
        continuous=not is_lamp,
        stay_limit_s=heater_stays_s if name == HEATER else None,
    )
