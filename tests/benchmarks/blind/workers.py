"""The workers: by printed table, by first appearance, by the average, by the belief, and an oracle."""

from __future__ import annotations

import math
from dataclasses import dataclass, field, replace
from statistics import NormalDist
from typing import Any

import numpy as np

from firmware_py.craft.belief import PlateEvidence, Prior, advise, believe
from firmware_py.craft.next_plate import Tried, next_plate
from tests.benchmarks.blind.nature import (
    FIT,
    PAPER,
    PRINTED_COEFFICIENT,
    PRINTED_S,
    REFERENCE,
    SHADOW,
    Box,
    Day,
    Plate,
    curve,
    develop,
    log_exposure,
    rate,
)

LN_PER_K = math.log(PRINTED_COEFFICIENT) / 10
CONTRAST = {"flat": -1.0, "rather flat": -0.5, "right": 0.0, "rather hard": 0.5, "hard": 1.0}
WEIGHT = {"thin": -1.0, "rather thin": -0.5, "right": 0.0, "rather dense": 0.5, "dense": 1.0}


class Worker:
    """Plans an exposure before the day is known, then ends the development as its method says."""

    def plan(self) -> float:
        raise NotImplementedError

    def seconds(self, box: Box, day: Day, stops: float) -> float:
        raise NotImplementedError

    def learn(self, plate: Plate) -> None:
        raise NotImplementedError


def bath_read(day: Day) -> float:
    """Return the bath as the worker expects it: as it was read before the plate went in."""
    return day.bath + day.misread_bath


@dataclass
class Table(Worker):
    """The printed time at the printed coefficient, then the usual corrections from the last plate.

    The amounts are the best of a grid that was tried on a hundred boxes.
    """

    stops: float = 2.5
    time: float = 1.0
    thin_stops: float = 0.4
    longer: float = 1.45
    coupled: bool = True

    def plan(self) -> float:
        return self.stops

    def seconds(self, box: Box, day: Day, stops: float) -> float:
        return self.time * PRINTED_S * math.exp(-LN_PER_K * (bath_read(day) - REFERENCE))

    def learn(self, plate: Plate) -> None:
        way, heavy = CONTRAST[plate.contrast], WEIGHT[plate.weight]
        self.time *= self.longer ** (-way)
        self.stops -= self.thin_stops * heavy
        if self.coupled and heavy and way and (heavy > 0) == (way > 0):
            # Dense and hard is development, not exposure; so is thin and flat.
            self.stops += 0.7 * self.thin_stops * heavy


@dataclass
class Factor(Table):
    """A factor of the first appearance, corrected in the same way."""

    stops: float = 1.5
    longer: float = 1.3
    factor: float = 11.0

    def seconds(self, box: Box, day: Day, stops: float) -> float:
        return self.time * self.factor * develop(box, day, stops, 60).appeared_s


@dataclass
class Averaged(Worker):
    """The mean of what the plates wanted: the advice of `next_plate`, as it was before the belief."""

    measured: bool = False
    tried: list[Tried] = field(default_factory=list)

    def plan(self) -> float:
        if not self.tried:
            return 1.0
        learned = next_plate(self.tried, wanted_range=PAPER).correction_stops
        return learned.value if learned is not None else 1.0

    def seconds(self, box: Box, day: Day, stops: float) -> float:
        wanted = next_plate(self.tried, wanted_range=PAPER).equivalent_s.value if self.tried else PRINTED_S
        return wanted * math.exp(-LN_PER_K * (bath_read(day) - REFERENCE))

    def learn(self, plate: Plate) -> None:
        warmer = math.exp(LN_PER_K * (plate.bath - REFERENCE))
        known = {}
        if self.measured:
            known = {
                "gamma": plate.gamma,
                "density_range": max(plate.span, 0.01),
                "shadow_over_fog": max(0.0, plate.shadow),
            }
        self.tried.append(
            Tried(
                plate=str(len(self.tried)),
                equivalent_s=plate.seconds * warmer,
                contrast=plate.contrast,  # type: ignore[arg-type]
                density=plate.weight,  # type: ignore[arg-type]
                appeared_s=plate.appeared_s * warmer,
                exposed_stops=plate.exposure,
                **known,
            )
        )


@dataclass
class Believer(Worker):
    """The belief: verdicts and appearance, with densities too if ``measured``; by the book if ``in_tray``."""

    measured: bool = False
    in_tray: bool = False
    prior: Prior = field(
        default_factory=lambda: Prior(usual_s=PRINTED_S, reference_degC=REFERENCE, ln_per_K=LN_PER_K)
    )
    known: list[PlateEvidence] = field(default_factory=list)
    chance: float = math.nan

    def plan(self) -> float:
        return advise(believe(self.known, self.prior), (PAPER,)).exposure_stops

    def seconds(self, box: Box, day: Day, stops: float) -> float:
        belief = believe(self.known, self.prior)
        seen = develop(box, day, stops, 60).appeared_s if self.in_tray else None
        advice = advise(belief, (PAPER,), bath_degC=bath_read(day), exposure_stops=stops, appeared_s=seen)
        self.chance = advice.chance
        return advice.developed_s

    def learn(self, plate: Plate) -> None:
        more: dict[str, Any] = {}
        if self.measured:
            more = {
                "shadow_density": max(plate.fog, plate.shadow + plate.fog),
                "highlight_density": max(0.0, plate.shadow + plate.fog + plate.span),
                "fog_density": max(0.0, plate.fog),
                "gamma": plate.gamma,
            }
        self.known.append(
            PlateEvidence(
                plate=str(len(self.known)),
                exposure_stops=plate.exposure,
                developed_s=plate.seconds,
                bath_degC=plate.bath,
                appeared_s=max(1.0, plate.appeared_s),
                contrast=plate.contrast,  # type: ignore[arg-type]
                density=plate.weight,  # type: ignore[arg-type]
                fog=plate.fog_word,  # type: ignore[arg-type]
                **more,
            )
        )


@dataclass
class Oracle(Worker):
    """Knows the box, not the day: the best exposure over all lights, and the time for it."""

    box: Box | None = None

    def plan(self) -> float:
        assert self.box is not None
        return _best(self.box)[0]

    def seconds(self, box: Box, day: Day, stops: float) -> float:
        return _best(box)[1] * 60 / rate(box, bath_read(day) + day.drift / 2)

    def learn(self, plate: Plate) -> None:
        pass


_LIGHTS = [NormalDist(0, 0.7).inv_cdf((n + 0.5) / 15) for n in range(15)]
_known: dict[Box, tuple[float, float]] = {}


def _best(box: Box) -> tuple[float, float]:
    """Return the exposure [stops] and the minutes at the reference that fit most lights."""
    if box in _known:
        return _known[box]
    best = (-1.0, 0.0, 5.0)
    base = Day(0, 1.35, REFERENCE, 0, 0, 0, 0, 0, (0, 0, 0, 0), (1, 0, 0), (1, 0, 0))
    for stops in np.arange(box.stops - 2, box.stops + 7, 0.25):
        xs = [log_exposure(box, replace(base, light=light), float(stops)) for light in _LIGHTS]
        low = np.array([curve(box, x) for x in xs])
        rise = np.array([curve(box, x + 1.35) for x in xs]) - low
        for gamma in np.arange(0.3, 0.97 * box.gamma_inf, 0.03):
            off = np.abs(gamma * rise - PAPER)
            score = float(np.mean((off <= FIT) & (gamma * low >= SHADOW))) - 0.02 * float(np.mean(off))
            if score > best[0]:
                best = (score, float(stops), -math.log(1 - float(gamma) / box.gamma_inf) / box.k)
    _known[box] = best[1:]
    return _known[box]
