"""Where a drifting bath is going: Newton's cooling fitted to its readings, and the time left along it."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from firmware_py.craft.rates import Rate, running_rate
from firmware_py.craft.refusal import Refused
from firmware_py.craft.search import golden_section

# A reading: a digital probe's step of 1/16 degC, and its noise. Common practice, no source.
STEP_K = 0.0625
NOISE_K = 0.03
# How quickly a tray comes to its surroundings, before its readings say better: a time constant of half an
# hour, between 4 min (a thin tray in a jacket) and 3 h. Own judgement.
USUAL_PER_S = 1 / 1800
QUICKEST_PER_S = 1 / 240
SLOWEST_PER_S = 1 / 10800
SPREAD_LN = 1.0
# A trend of its own is expected within a quarter of a degree a minute. Own judgement.
USUAL_TREND_K_PER_S = 0.25 / 60
# Where the room is not known, the trend may die away as soon as with this. Own judgement.
SOON_PER_S = 1 / 600
# A forecast knows nothing of a lamp moved near or a tray topped up: 0.1 K in 10 min. Own judgement.
WANDER_K_PER_S = 0.1 / 600
WINDOW_S = 480.0
PIECES = 24
TICKS = 64


@dataclass(frozen=True, slots=True)
class Drift:
    """A bath on its way to ``room_degC``: T(t) = T(centre) + slope·(1 − exp(−k·(t − centre)))/k.

    ``centre_degC`` [degC] and ``slope_K_per_s`` [K/s] hold at ``centre_s`` [s], ``per_s`` is k [1/s], the
    two ``_var`` are the variances of the first two; ``bend`` says how little is known of k, from 0 to 1;
    readings were seen from ``from_s`` to ``to_s`` [s].
    Source: Newton's law of cooling.
    """

    centre_s: float
    centre_degC: float
    slope_K_per_s: float
    per_s: float
    centre_var: float
    slope_var: float
    bend: float
    from_s: float
    to_s: float

    @property
    def room_degC(self) -> float:
        """Get the temperature [degC] the bath is going to. Source: Newton's law of cooling."""
        return self.centre_degC + self.slope_K_per_s / self.per_s

    def at(self, time_s: float) -> tuple[float, float]:
        """Return the bath [degC] at ``time_s`` [s] and its tolerance [K], two standard deviations.

        The tolerance grows with the distance from the readings. Before the first reading the bath is
        taken as at the first. Source: Newton's law of cooling; the tolerance is own.
        """
        since_s = max(time_s, self.from_s) - self.centre_s
        reach_s = _reach_s(self.per_s, since_s)
        bath_degC = self.centre_degC + self.slope_K_per_s * reach_s
        ahead_s = max(0.0, time_s - self.to_s)
        bend_K = self.bend * self.slope_K_per_s * (ahead_s - _reach_s(SOON_PER_S, ahead_s))
        variance = self.centre_var + self.slope_var * reach_s**2 + bend_K**2
        return bath_degC, 2 * math.sqrt(variance) + WANDER_K_PER_S * ahead_s


def fit_drift(readings: Sequence[tuple[float, float]], room_degC: float | None = None) -> Drift:
    """Return the drift that fits the last readings of (time_s, bath_degC), of the last 8 min.

    With ``room_degC`` [degC], the bath goes there as quickly as the readings say; where they contradict
    it (a jacket, a hand warmer) or no room is known, they follow a trend of their own that dies away.
    Few or coarse readings lean on what a tray usually does. Refuses no readings or times going backwards.
    Source: Newton's law of cooling by least squares; the leanings are own, as stated in this room.
    """
    _check(readings)
    pieces = _pieces(readings)
    free = _best(lambda per_s: _free_trend(pieces, per_s))
    if room_degC is None or not math.isfinite(room_degC):
        return free.drift
    to_room = _best(lambda per_s: _towards_room(pieces, per_s, room_degC))
    return to_room.drift if to_room.cost <= free.cost + 12 else free.drift


def time_left_along(rate: Rate, wanted_s: float, drift: Drift, now_s: float) -> float:
    """Return the time [s] from ``now_s`` in which the drifting bath does ``wanted_s`` [s] of equivalent time.

    Outside the rate's range as `running_rate`; nothing wanted gives 0. Source: own, the integral of the
    rate, by trapezoids.
    """
    if wanted_s <= 0:
        return 0.0
    now_rate = running_rate(rate, drift.at(now_s)[0])
    tick_s = wanted_s / now_rate / TICKS
    done_s, passed_s = 0.0, 0.0
    while True:
        next_rate = running_rate(rate, drift.at(now_s + passed_s + tick_s)[0])
        step_s = tick_s * (now_rate + next_rate) / 2
        if done_s + step_s >= wanted_s:
            return passed_s + _part_of(tick_s, now_rate, next_rate, wanted_s - done_s)
        done_s, passed_s, now_rate = done_s + step_s, passed_s + tick_s, next_rate


def _part_of(tick_s: float, now_rate: float, next_rate: float, wanted_s: float) -> float:
    """Return when in a tick the rate, going straight from one value to the next, has done ``wanted_s``."""
    growth = (next_rate - now_rate) / tick_s
    return 2 * wanted_s / (now_rate + math.sqrt(max(0.0, now_rate**2 + 2 * growth * wanted_s)))


@dataclass(frozen=True, slots=True)
class _Piece:
    """The mean of neighbouring readings, and its weight (one over its variance)."""

    time_s: float
    bath_degC: float
    weight: float


@dataclass(frozen=True, slots=True)
class _Fit:
    drift: Drift
    cost: float


def _check(readings: Sequence[tuple[float, float]]) -> None:
    if not readings:
        raise Refused("no reading to follow", where="drift", allowed="one reading or more")
    if any(not (math.isfinite(time_s) and math.isfinite(bath)) for time_s, bath in readings):
        raise Refused("a reading is no number", where="drift")
    if any(later < earlier for (earlier, _), (later, _) in pairwise(readings)):
        raise Refused("the readings go backwards in time", where="drift")


def _pieces(readings: Sequence[tuple[float, float]]) -> list[_Piece]:
    """Return the means of neighbouring readings; the step of the probe is common to a piece, noise is not."""
    last_s = readings[-1][0]
    recent = [reading for reading in readings if reading[0] >= last_s - WINDOW_S]
    width_s = max(last_s - recent[0][0], 1e-9) / PIECES
    groups: dict[int, list[tuple[float, float]]] = {}
    for time_s, bath in recent:
        groups.setdefault(min(PIECES - 1, int((time_s - recent[0][0]) / width_s)), []).append((time_s, bath))
    return [_piece(group) for group in groups.values()]


def _piece(group: list[tuple[float, float]]) -> _Piece:
    count = len(group)
    variance = STEP_K**2 / 12 + NOISE_K**2 / count
    return _Piece(sum(t for t, _ in group) / count, sum(bath for _, bath in group) / count, 1 / variance)


def _best(fit_at: Callable[[float], _Fit]) -> _Fit:
    """Return the fit of least cost over how quickly the tray comes to its surroundings."""
    slowest, quickest = math.log(SLOWEST_PER_S), math.log(QUICKEST_PER_S)
    ln_per_s = golden_section(lambda ln: fit_at(math.exp(ln)).cost, slowest, quickest, within=1e-3)
    return fit_at(math.exp(ln_per_s))


def _free_trend(pieces: Sequence[_Piece], per_s: float) -> _Fit:
    """Fit centre and slope, the slope leaning towards none."""
    total = sum(piece.weight for piece in pieces)
    centre_s = sum(piece.weight * piece.time_s for piece in pieces) / total
    reaches = [_reach_s(per_s, piece.time_s - centre_s) for piece in pieces]
    rows = [(piece.weight, reach, piece.bath_degC) for piece, reach in zip(pieces, reaches, strict=True)]
    cross = sum(w * reach for w, reach, _ in rows)
    square = sum(w * reach**2 for w, reach, _ in rows) + USUAL_TREND_K_PER_S**-2
    level = sum(w * bath for w, _, bath in rows)
    tilt = sum(w * reach * bath for w, reach, bath in rows)
    bottom = total * square - cross**2
    centre_degC, slope = (square * level - cross * tilt) / bottom, (total * tilt - cross * level) / bottom
    misfit = sum(w * (bath - centre_degC - slope * reach) ** 2 for w, reach, bath in rows)
    bend = 0.5 / (1 + (pieces[-1].time_s - pieces[0].time_s) / 240)
    drift = Drift(centre_s, centre_degC, slope, per_s, square / bottom, total / bottom, bend, *_span(pieces))
    return _Fit(drift, misfit + (slope / USUAL_TREND_K_PER_S) ** 2 + _unusual(per_s))


def _towards_room(pieces: Sequence[_Piece], per_s: float, room_degC: float) -> _Fit:
    """Fit the centre alone; the slope is what Newton's law gives."""
    total = sum(piece.weight for piece in pieces)
    centre_s = sum(piece.weight * piece.time_s for piece in pieces) / total
    left = [math.exp(-per_s * (piece.time_s - centre_s)) for piece in pieces]
    square = sum(piece.weight * share**2 for piece, share in zip(pieces, left, strict=True))
    excess_K = (
        sum(
            piece.weight * share * (piece.bath_degC - room_degC)
            for piece, share in zip(pieces, left, strict=True)
        )
        / square
    )
    misfit = sum(
        piece.weight * (piece.bath_degC - room_degC - excess_K * share) ** 2
        for piece, share in zip(pieces, left, strict=True)
    )
    spread = sum(piece.weight * (piece.time_s - centre_s) ** 2 for piece in pieces)
    ln_var = 1 / (spread * (excess_K * per_s) ** 2 + SPREAD_LN**-2)
    slope = -per_s * excess_K
    drift = Drift(
        centre_s, room_degC + excess_K, slope, per_s, 1 / square, slope**2 * ln_var, 0.0, *_span(pieces)
    )
    return _Fit(drift, misfit + _unusual(per_s))


def _reach_s(per_s: float, since_s: float) -> float:
    """Return how far [s] a trend that dies away with ``per_s`` has gone in ``since_s``."""
    return -math.expm1(-per_s * since_s) / per_s


def _span(pieces: Sequence[_Piece]) -> tuple[float, float]:
    return pieces[0].time_s, pieces[-1].time_s


def _unusual(per_s: float) -> float:
    return (math.log(per_s / USUAL_PER_S) / SPREAD_LN) ** 2
