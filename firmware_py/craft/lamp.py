"""The printing lamp: what its slowness costs, how long it must be on, what distance and voltage change."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from firmware_py.craft.limits import above_zero, finite, not_negative, within
from firmware_py.craft.refusal import Refused
from firmware_py.craft.strips import Strip

MOST_STARTS = 200  # own: more nobody counts in the dark
READ_TO_STOPS = 0.05  # own: how nearly two patches can be called equal, side by side

MAINS_Hz = (50.0, 60.0)
VOLTAGE_POWER = 3.4  # of tungsten filaments; printed values run from 3.4 to 3.5


@dataclass(frozen=True, slots=True)
class Lag:
    """What each start of the lamp loses [s], how far that may be wrong [s], and the shortest start tried [s].

    Below 0 the afterglow gives more than the rise loses. Source: own.
    """

    lag_s: float
    uncertain_s: float
    tried_from_s: float

    @property
    def told_from_none(self) -> bool:
        """Get whether the test was fine enough to tell this lag from no lag at all. Source: own."""
        return abs(self.lag_s) > self.uncertain_s


def lag_found(long_s: float, short_s: float, starts: int, read_to_stops: float = READ_TO_STOPS) -> Lag:
    """Find the lag from two patches of equal density: one long exposure, and many short ones added up.

    Equal density means ``long_s`` - lag = ``starts`` · (``short_s`` - lag).
    Parameters: 0 < short_s < long_s [s]; 2 to 200 starts; ``read_to_stops`` 0 to 1, how nearly the patches
    were matched. Raises `Refused` outside, and for an afterglow longer than the short exposure itself.
    Source: common practice, no source (the equation is own).
    """
    above_zero("short exposure, s", short_s)
    finite("long exposure, s", long_s)
    within("starts", starts, 2, MOST_STARTS)
    within("read to, stops", read_to_stops, 0.0, 1.0)
    if long_s <= short_s:
        raise Refused(
            f"long {long_s:g} s, short {short_s:g} s",
            where="lag test",
            allowed="a long exposure longer than the short",
        )
    lag_s = (starts * short_s - long_s) / (starts - 1)
    if lag_s < -short_s:
        raise Refused(
            f"{starts} x {short_s:g} s for {long_s:g} s would be a gain of {-lag_s:.3g} s a start",
            where="lag test",
            allowed="two patches of equal density",
        )
    uncertain_s = long_s * math.expm1(read_to_stops * math.log(2.0)) / (starts - 1)
    return Lag(lag_s, uncertain_s, short_s)


def on_s(effective_s: float, lag_s: float, shortest_s: float = 0.0) -> float:
    """Return the on-time [s] that gives ``effective_s`` [s] of full light in one start.

    Parameters: effective time above 0 [s]; ``shortest_s`` [s], below which the lag was never tried.
    Raises `Refused` when the on-time would not be above 0 or would be below ``shortest_s``.
    Source: own, as `lag_found`: the lag is the same for every start that is long against the lamp's rise.
    """
    wanted_s = above_zero("effective time, s", effective_s) + finite("lag, s", lag_s)
    if wanted_s <= 0 or wanted_s < shortest_s:
        least_s = max(shortest_s, 0.0) - lag_s
        raise Refused(
            f"{effective_s:g} s is shorter than this lamp is known to give",
            where="effective time",
            allowed=f"{least_s:.3g} s or more; take a weaker light or a greater distance",
        )
    return wanted_s


def effective_s(on_time_s: float, lag_s: float) -> float:
    """Return the seconds of full light [s] that one start of ``on_time_s`` [s] >= 0 gives.

    A start shorter than the lag counts as nothing. Raises `Refused` for a negative time. Source: as `on_s`.
    """
    if not_negative("on-time, s", on_time_s) == 0:
        return 0.0
    return max(0.0, on_time_s - finite("lag, s", lag_s))


def dose_s(on_times_s: Iterable[float], lag_s: float) -> float:
    """Return the seconds of full light [s] given so far by several starts: the running dose.

    Raises `Refused` for a negative time. Source: as `effective_s`, added up.
    """
    return math.fsum(effective_s(time_s, lag_s) for time_s in on_times_s)


def rest_on_s(wanted_s: float, on_times_s: Iterable[float], lag_s: float) -> float:
    """Return the on-time [s] of one more start that completes ``wanted_s`` [s]; 0 when nothing is wanting.

    The new start loses the lag once more. Raises `Refused` as `on_s`. Source: own.
    """
    missing_s = above_zero("effective time, s", wanted_s) - dose_s(on_times_s, lag_s)
    return on_s(missing_s, lag_s) if missing_s > 1e-9 else 0.0


@dataclass(frozen=True, slots=True)
class Rounded:
    """An on-time in whole half-cycles of the mains: the time [s], their number, and the error made [s].

    Source: as `to_half_cycles`.
    """

    on_s: float
    half_cycles: int
    error_s: float


def half_cycle_s(mains_Hz: float) -> float:
    """Return the half period [s] of mains of 50 or 60 Hz; raises `Refused` for other mains.

    Source: definition; 10 ms and 8.3 ms.
    """
    if mains_Hz not in MAINS_Hz:
        raise Refused(f"{mains_Hz:g} Hz", where="mains", allowed="50 Hz or 60 Hz")
    return 0.5 / mains_Hz


def to_half_cycles(on_time_s: float, mains_Hz: float) -> Rounded:
    """Round an on-time [s] to what a zero-crossing switch can do, and say the error.

    Such a switch waits for the next zero both when it is told to go on and to go off. Told a whole number of
    half-cycles it gives just those; told anything else it gives one more or one less, by chance.
    Raises `Refused` below half a half-cycle and for other mains. Source: own, from how the switch works.
    """
    half_s = half_cycle_s(mains_Hz)
    count = math.floor(above_zero("on-time, s", on_time_s) / half_s + 0.5)
    if count < 1:
        raise Refused(f"{on_time_s:g} s", where="on-time", allowed=f"at least one half-cycle, {half_s:.4g} s")
    return Rounded(count * half_s, count, count * half_s - on_time_s)


def strip_on_s(strip: Strip, lag_s: float, mains_Hz: float | None = None) -> tuple[float, ...]:
    """Return the on-times [s] of a strip's exposures, in order; the lag is added to every start.

    With ``mains_Hz`` they are whole half-cycles, rounded so that no *patch* is out by more than half of one,
    however many starts it got. Raises `Refused` where an on-time would not be above 0.
    Source: own, as `on_s` and `to_half_cycles`.
    """
    rising = strip.increments_s if strip.method == "covering" else strip.increments_s[::-1]
    times = tuple(on_s(increment_s, lag_s) for increment_s in rising)
    if mains_Hz is not None:
        times = _rounded_together(times, half_cycle_s(mains_Hz))
    return times if strip.method == "covering" else times[::-1]


def time_at_distance_s(time_s: float, from_mm: float, to_mm: float) -> float:
    """Return the time [s] at the distance ``to_mm`` for what took ``time_s`` [s] at ``from_mm`` [mm].

    All above 0; `Refused` otherwise. For a lamp small against its distance, without reflector or lens.
    Source: inverse square; E. J. Wall, *Dictionary of Photography* (12 in 45 s, 24 in 180 s, 48 in 720 s).
    """
    ratio = above_zero("new distance, mm", to_mm) / above_zero("old distance, mm", from_mm)
    return above_zero("time, s", time_s) * ratio * ratio


def light_at_voltage(voltage_ratio: float, power: float = VOLTAGE_POWER) -> float:
    """Return the light of a filament lamp, of 1 at its own voltage, at ``voltage_ratio`` times that voltage.

    Parameters: ratio 0.7 to 1.15; ``power`` 2 to 6. Raises `Refused` outside. For information: this is light
    to the eye; blue light, to which most papers answer, changes more.
    Source: light goes as voltage to the 3.4 (printed with 0.95 -> 0.84, 0.88 -> 0.65); range own.
    """
    within("power", power, 2.0, 6.0)
    return math.exp(power * math.log(within("voltage ratio", voltage_ratio, 0.7, 1.15)))


def _rounded_together(times_s: tuple[float, ...], half_s: float) -> tuple[float, ...]:
    """Round each sum so far, so that errors do not add up; times run from the least patch to the greatest."""
    done, total_s, rounded = 0, 0.0, []
    for time_s in times_s:
        total_s += time_s
        upto = math.floor(total_s / half_s + 0.5)
        if upto <= done:
            raise Refused(
                f"{time_s:g} s", where="on-time", allowed=f"at least one half-cycle, {half_s:.4g} s"
            )
        rounded.append((upto - done) * half_s)
        done = upto
    return tuple(rounded)
