"""The physics that a rehearsal needs: a cooling tray, a jacket, a probe, a lamp, and an image that grows."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from firmware_py.craft.limits import above_zero, finite, not_negative
from firmware_py.craft.refusal import Refused
from firmware_py.craft.tray import cooled_degC

# Heat that warms 1 ml of water by 1 K, near 20 degC. Source: from memory; a rehearsal needs no better.
WATER_J_PER_ML_K = 4.18

Sign = Literal["image appears", "shadow detail shows"]
SIGNS: tuple[Sign, ...] = ("image appears", "shadow detail shows")

_MASK_64 = (1 << 64) - 1


@dataclass(frozen=True, slots=True)
class CoolingTray:
    """A tray left to itself: it comes half-way nearer to the room in each ``minutes_to_half`` [min].

    Temperatures [degC] must be finite, ``minutes_to_half`` above 0; `Refused` otherwise.
    Source: Newton's law of cooling.
    """

    start_degC: float
    room_degC: float
    minutes_to_half: float

    def __post_init__(self) -> None:
        finite("start_degC", self.start_degC)
        finite("room_degC", self.room_degC)
        above_zero("minutes_to_half", self.minutes_to_half)

    def bath_degC(self, time_s: float) -> float:
        """Return the temperature [degC] at ``time_s`` [s] >= 0 after the start.

        Raises `Refused` for a negative or endless time. Source: Newton's law of cooling.
        """
        not_negative("time_s", time_s)
        per_s = math.log(2.0) / (60.0 * self.minutes_to_half)
        return cooled_degC(self.start_degC, self.room_degC, per_s, time_s)


@dataclass(slots=True)
class TrayOnJacket:
    """A tray of ``bath_ml`` standing in a water jacket of ``jacket_ml`` that a heater warms.

    Each body is one well stirred temperature [degC]; heat flows between them by ``exchange_W_per_K`` and to
    the room by ``bath_loss_W_per_K`` and ``jacket_loss_W_per_K``, all [W/K]. Volumes [ml], exchange and
    jacket loss must be above 0, the bath's loss at least 0; `Refused` otherwise.
    The jacket leads and the tray follows: that is the lag a thermostat must live with.
    Source: Newton's law of cooling; the default conductances are own guesses for a half-plate tray.
    """

    bath_degC: float
    jacket_degC: float
    room_degC: float
    bath_ml: float = 300.0
    jacket_ml: float = 3000.0
    exchange_W_per_K: float = 6.0
    bath_loss_W_per_K: float = 1.0
    jacket_loss_W_per_K: float = 4.0

    def __post_init__(self) -> None:
        for name in ("bath_degC", "jacket_degC", "room_degC"):
            finite(name, getattr(self, name))
        for name in ("bath_ml", "jacket_ml", "exchange_W_per_K", "jacket_loss_W_per_K"):
            above_zero(name, getattr(self, name))
        not_negative("bath_loss_W_per_K", self.bath_loss_W_per_K)

    def advance(self, seconds: float, heater_watts: float = 0.0) -> None:
        """Let ``seconds`` [s] >= 0 pass with ``heater_watts`` [W] >= 0 going into the jacket all the while.

        The step is exact, so that one of 10 s equals ten of 1 s. Raises `Refused` for negative or endless
        input. Source: closed solution of two coupled linear cooling laws.
        """
        not_negative("seconds", seconds)
        not_negative("heater_watts", heater_watts)
        rest_bath, rest_jacket = self._resting_K(heater_watts)
        bath_K = self.bath_degC - self.room_degC - rest_bath
        jacket_K = self.jacket_degC - self.room_degC - rest_jacket
        bath_K, jacket_K = self._relax(bath_K, jacket_K, seconds)
        self.bath_degC = self.room_degC + rest_bath + bath_K
        self.jacket_degC = self.room_degC + rest_jacket + jacket_K

    def _resting_K(self, heater_watts: float) -> tuple[float, float]:
        """Return how far above the room bath and jacket would come to rest."""
        between, bath_loss = self.exchange_W_per_K, self.bath_loss_W_per_K
        share = between / (between + bath_loss)  # of the jacket's excess that the bath keeps
        jacket_K = heater_watts / (self.jacket_loss_W_per_K + share * bath_loss)
        return share * jacket_K, jacket_K

    def _relax(self, bath_K: float, jacket_K: float, seconds: float) -> tuple[float, float]:
        """Apply the exponential of the 2 x 2 rate matrix to the excess over rest."""
        bath_J, jacket_J = WATER_J_PER_ML_K * self.bath_ml, WATER_J_PER_ML_K * self.jacket_ml
        a = -(self.exchange_W_per_K + self.bath_loss_W_per_K) / bath_J
        b = self.exchange_W_per_K / bath_J
        c = self.exchange_W_per_K / jacket_J
        d = -(self.exchange_W_per_K + self.jacket_loss_W_per_K) / jacket_J
        middle, half = 0.5 * (a + d), 0.5 * (a - d)
        spread = math.sqrt(half * half + b * c)
        slow, fast = math.exp((middle + spread) * seconds), math.exp((middle - spread) * seconds)
        even, odd = 0.5 * (slow + fast), 0.5 * (slow - fast) / spread
        return (
            (even + odd * half) * bath_K + odd * b * jacket_K,
            odd * c * bath_K + (even - odd * half) * jacket_K,
        )


@dataclass(frozen=True, slots=True)
class QuantisedProbe:
    """A thermometer that adds noise and then reads in steps, the same way in every rehearsal.

    ``step_K`` [K] >= 0 (0: no steps) and ``noise_K`` [K] >= 0, the standard deviation; `Refused` otherwise.
    Source: the step is that of a 12-bit 1-Wire thermometer; the noise is an own guess.
    """

    step_K: float = 0.0625
    noise_K: float = 0.02
    seed: int = 0

    def __post_init__(self) -> None:
        not_negative("step_K", self.step_K)
        not_negative("noise_K", self.noise_K)

    def reading(self, true_degC: float, number: int) -> float:
        """Return reading ``number`` of a bath that is really at ``true_degC`` [degC].

        It depends on seed, number and temperature only, never on the readings taken before.
        Raises `Refused` for a temperature that is not finite. Source: own.
        """
        finite("true_degC", true_degC)
        felt_degC = true_degC + self.noise_K * _noise(self.seed, number)
        return felt_degC if self.step_K == 0 else round(felt_degC / self.step_K) * self.step_K


@dataclass(frozen=True, slots=True)
class RecordedTrace:
    """A temperature that was once recorded: (time_s, bath_degC) points, straight lines between them.

    At least two points, all finite, times rising; `Refused` with the number of the point otherwise.
    Source: linear interpolation.
    """

    points: tuple[tuple[float, float], ...]

    def __init__(self, points: Sequence[tuple[float, float]]) -> None:
        object.__setattr__(self, "points", tuple((float(time_s), float(degC)) for time_s, degC in points))
        if len(self.points) < 2:
            raise Refused(f"{len(self.points)} points", where="trace", allowed="at least two points")
        for number, (time_s, bath_degC) in enumerate(self.points, start=1):
            if not (math.isfinite(time_s) and math.isfinite(bath_degC)):
                raise Refused(
                    f"({time_s}, {bath_degC}) is not finite",
                    where=f"trace, point {number}",
                    allowed="finite numbers",
                )
            if number > 1 and time_s <= self.points[number - 2][0]:
                raise Refused(
                    f"time {time_s:g} s does not come after {self.points[number - 2][0]:g} s",
                    where=f"trace, point {number}",
                    allowed="rising times",
                )

    @property
    def span_s(self) -> tuple[float, float]:
        """Get the first and the last time [s] of the trace. Source: own."""
        return self.points[0][0], self.points[-1][0]

    def bath_degC(self, time_s: float) -> float:
        """Return the temperature [degC] at ``time_s`` [s] within `span_s`; raises `Refused` outside it.

        Source: linear interpolation.
        """
        first_s, last_s = self.span_s
        if not first_s <= time_s <= last_s:
            raise Refused(
                f"no temperature at {time_s:g} s", where="trace", allowed=f"{first_s:g} s to {last_s:g} s"
            )
        after = min(bisect_right(self.points, time_s, key=lambda point: point[0]), len(self.points) - 1)
        (early_s, early_degC), (late_s, late_degC) = self.points[after - 1], self.points[after]
        share = (time_s - early_s) / (late_s - early_s)
        return early_degC * (1.0 - share) + late_degC * share


@dataclass(frozen=True, slots=True)
class FilamentLamp:
    """A lamp whose light needs ``rise_s`` [s] to 90 % and, switched off, ``fall_s`` [s] to 10 %.

    Both at least 0; `Refused` otherwise. The light follows one exponential each way.
    Source: the exponential is own; the default is a 60 W lamp, from memory: measure it on the bench.
    """

    rise_s: float = 0.10
    fall_s: float = 0.04

    def __post_init__(self) -> None:
        not_negative("rise_s", self.rise_s)
        not_negative("fall_s", self.fall_s)

    def light(self, since_on_s: float, on_s: float) -> float:
        """Return the light, of 1 for full, ``since_on_s`` [s] after a start that lasts ``on_s`` [s] >= 0.

        Before the start there is none. Raises `Refused` for a negative ``on_s``. Source: own.
        """
        not_negative("on_s", on_s)
        finite("since_on_s", since_on_s)
        if since_on_s <= 0:
            return 0.0
        reached = 1.0 - _decay(min(since_on_s, on_s), self.rise_s)
        return reached if since_on_s <= on_s else reached * _decay(since_on_s - on_s, self.fall_s)

    def effective_s(self, on_s: float) -> float:
        """Return the seconds of full light [s] that the paper gets from one start of ``on_s`` [s] >= 0.

        Everything is counted: the slow rise, and the afterglow. Raises `Refused` for a negative ``on_s``.
        Source: the integral of `light`.
        """
        not_negative("on_s", on_s)
        reached = 1.0 - _decay(on_s, self.rise_s)
        rise_tau_s, fall_tau_s = self.rise_s / math.log(10.0), self.fall_s / math.log(10.0)
        return on_s - rise_tau_s * reached + fall_tau_s * reached

    @property
    def lag_s(self) -> float:
        """Get the time [s] each long start loses: what a lag test should find. Source: as `effective_s`."""
        return (self.rise_s - self.fall_s) / math.log(10.0)


@dataclass(frozen=True, slots=True)
class GrowingImage:
    """A plate in the developer: when its signs show, and how its contrast grows, in equivalent seconds.

    ``appears_s`` [s] > 0, ``shadow_detail_s`` [s] after it, ``gamma_inf`` > 0, ``k_per_min`` [1/min, base e]
    > 0; `Refused` otherwise.
    Source: gamma = gamma_inf (1 - exp(-K t)), Hurter & Driffield; the defaults are invented.
    """

    appears_s: float = 40.0
    shadow_detail_s: float = 150.0
    gamma_inf: float = 1.6
    k_per_min: float = 0.25

    def __post_init__(self) -> None:
        for name in ("appears_s", "shadow_detail_s", "gamma_inf", "k_per_min"):
            above_zero(name, getattr(self, name))
        if self.shadow_detail_s <= self.appears_s:
            raise Refused(
                f"shadow detail at {self.shadow_detail_s:g} s",
                where="shadow_detail_s",
                allowed=f"after the image appears at {self.appears_s:g} s",
            )

    def shows_at_s(self, sign: Sign, relative_rate: float = 1.0) -> float:
        """Return when ``sign`` shows [s] in a developer that works at ``relative_rate`` > 0 of its usual.

        At the rate 1 that is the equivalent time itself. Raises `Refused` for an unknown sign or such a rate.
        Source: own.
        """
        above_zero("relative_rate", relative_rate)
        if sign not in SIGNS:
            raise Refused(f"no sign called {sign!r}", where="sign", allowed=", ".join(SIGNS))
        return (self.appears_s if sign == "image appears" else self.shadow_detail_s) / relative_rate

    def signs(self, equivalent_s: float) -> tuple[Sign, ...]:
        """Return the signs that show after ``equivalent_s`` [s] >= 0, in their order.

        Raises `Refused` for a negative time. Source: own.
        """
        not_negative("equivalent_s", equivalent_s)
        return tuple(sign for sign in SIGNS if equivalent_s >= self.shows_at_s(sign))

    def gamma(self, equivalent_s: float) -> float:
        """Return the gamma after ``equivalent_s`` [s] >= 0; raises `Refused` for a negative time.

        Source: Hurter & Driffield, as in the class.
        """
        not_negative("equivalent_s", equivalent_s)
        return -self.gamma_inf * math.expm1(-self.k_per_min * equivalent_s / 60.0)


def _decay(time_s: float, to_tenth_s: float) -> float:
    """Return what is left after ``time_s`` of something that falls to a tenth in ``to_tenth_s``."""
    if to_tenth_s == 0:
        return 0.0 if time_s > 0 else 1.0
    return math.exp(-math.log(10.0) * time_s / to_tenth_s)


def _noise(seed: int, number: int) -> float:
    """Return a bell-shaped number of mean 0 and deviation 1, at most 6 away, the same on every machine.

    Twelve even 16-bit numbers are added: whole-number arithmetic, so that no library's rounding enters.
    """
    start = _mixed(_mixed(seed & _MASK_64) ^ (number & _MASK_64))
    words = (_mixed(start + turn) for turn in range(3))
    total = sum((word >> shift) & 0xFFFF for word in words for shift in (0, 16, 32, 48))
    return (total + 6.0) / 65536.0 - 6.0


def _mixed(word: int) -> int:
    """Return 64 well stirred bits. Source: the finaliser of the splitmix64 generator, from memory."""
    word = (word + 0x9E3779B97F4A7C15) & _MASK_64
    word = ((word ^ (word >> 30)) * 0xBF58476D1CE4E5B9) & _MASK_64
    word = ((word ^ (word >> 27)) * 0x94D049BB133111EB) & _MASK_64
    return word ^ (word >> 31)
