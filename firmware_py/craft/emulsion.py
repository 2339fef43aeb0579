"""The law of a plate in a developer, with its hidden constants, and how widely these differ between boxes.

Density over fog is gamma times the height of the curve at an exposure. The curve is a toe, a straight part
of slope 1 and a shoulder over log10 exposure counted from the inertia; gamma grows with equivalent time to an
end value; the velocity grows with temperature by one coefficient; fog grows with time.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.limits import above_zero, finite, within

LOG_OF_A_STOP = math.log10(2)
# The shadow from the inertia [log10] on a plate as fast as its box says, exposed as calculated: own.
SHADOW_FROM_INERTIA = -0.1
# Deepest shadow with detail to highlight: 1:30 is the subject of Ives, Airplane Photography, 1920.
USUAL_SUBJECT_LOG_RANGE = math.log10(30)
SHOULDER_WIDTH = 0.25  # own; with a toe of 0.434 the curve is near Hurter & Driffield's
EXPONENT_LIMIT = 40.0
# Constant times the printed time of development, a little over half of all contrast; doubt of its ln. Own.
USUAL_SHARE, USUAL_LN_DOUBT = 0.95, 0.62
exp, log1p = math.exp, math.log1p


@dataclass(frozen=True, slots=True)
class Emulsion:
    """The hidden constants of a box of plates in a developer.

    ``speed_stops`` [stops] faster than the box's index says; ``gamma_inf`` the end value of gamma;
    ``k_per_min`` [1/min, base e] at the reference temperature; ``ln_per_K`` [1/K] its rise with temperature;
    ``toe`` and ``shoulder`` [log10 exposure]: how long the toe is, and how far from the inertia the curve
    bends over; ``appears`` is the constant times the time of first appearance at a usual exposure, and
    ``sooner_per_stop`` the ln by which one more stop hastens it. Fog stands apart: `fogging`.
    Source: density by F. Hurter and V. C. Driffield; the growth as in `contrast`; toe and shoulder in this
    form are own.
    """

    speed_stops: float
    gamma_inf: float
    k_per_min: float
    ln_per_K: float
    toe: float
    shoulder: float
    appears: float
    sooner_per_stop: float

    def gamma_at(self, equivalent_s: float) -> float:
        """Return the gamma after ``equivalent_s`` [s] at the reference temperature.

        Source: Hurter & Driffield; C. E. K. Mees, Jahrbuch für Photographie 25 (1911) p. 170.
        """
        return -self.gamma_inf * math.expm1(-self.k_per_min * equivalent_s / 60)

    def height(self, log_exposure: float) -> float:
        """Return the curve's height, density over fog at gamma 1, at a log10 exposure from the inertia.

        Source: own form; near Hurter & Driffield's, as the tests show.
        """
        return height(log_exposure, self.toe, self.shoulder)

    def appears_at_s(self, more_stops: float) -> float:
        """Return when a plate first shows [equivalent s] that got ``more_stops`` [stops] of its own need.

        The time goes as one over the velocity constant, as Watkins' factor asks, and falls with exposure.
        Source: the first from memory, in words in Wall's Dictionary; the second is own.
        """
        return 60 * self.appears / self.k_per_min * math.exp(-self.sooner_per_stop * more_stops)


def height(log_exposure: float, toe: float, shoulder: float) -> float:
    """Return the height of a curve with this toe and shoulder [log10 exposure]. Source: as `Emulsion`."""
    low = log_exposure / toe
    rise = log_exposure if low > EXPONENT_LIMIT else toe * log1p(exp(low))
    over = (log_exposure - shoulder) / SHOULDER_WIDTH
    if over < -6:  # under a thousandth of density
        return rise
    return rise - (log_exposure - shoulder if over > EXPONENT_LIMIT else SHOULDER_WIDTH * log1p(exp(over)))


@dataclass(frozen=True, slots=True)
class Prior:
    """What is thought of a box before any of its plates: wide, because plates are.

    ``speed_stops`` and ``speed_doubt_stops`` [stops]: how much faster it is believed than its index, and one
    standard deviation of that (a speed test narrows it); ``usual_s`` [s] the printed time of development at
    ``reference_degC`` [degC], None where nothing is printed; ``ln_per_K`` [1/K] the routine's temperature
    coefficient and its doubt; ``gamma_inf`` with the doubt of its ln.
    Source: coefficients of 1.5 to 2.5 per 10 K hold most developers in print (references in `coefficient`);
    gamma infinity 1.45 and 2.12 are Ives's two (Airplane Photography, 1920); all widths are own.
    """

    speed_stops: float = 0.0
    speed_doubt_stops: float = 1.3
    usual_s: float | None = None
    reference_degC: float = 18.0
    ln_per_K: float = 0.065
    ln_per_K_doubt: float = 0.014
    gamma_inf: float = 1.55
    gamma_inf_ln_doubt: float = 0.36
    k_per_min: float = 0.25
    k_ln_doubt: float = 0.75

    def __post_init__(self) -> None:
        within("prior, speed_stops", finite("prior, speed_stops", self.speed_stops), -10, 10)
        within("prior, speed_doubt_stops", self.speed_doubt_stops, 0.05, 5)
        if self.usual_s is not None:
            within("prior, usual_s", self.usual_s, 5, 86400)
        within("prior, reference_degC", self.reference_degC, -5, 50)
        within("prior, ln_per_K", self.ln_per_K, 0, 0.3)
        within("prior, ln_per_K_doubt", self.ln_per_K_doubt, 0.0005, 0.1)
        within("prior, gamma_inf", self.gamma_inf, 0.2, 6)
        within("prior, gamma_inf_ln_doubt", self.gamma_inf_ln_doubt, 0.02, 2)
        within("prior, k_per_min", self.k_per_min, 1e-3, 30)
        within("prior, k_ln_doubt", above_zero("prior, k_ln_doubt", self.k_ln_doubt), 0.02, 2)

    @property
    def k_centre_per_min(self) -> float:
        """Get the constant thought likeliest [1/min]: from the usual time, where one is printed.

        Source: own.
        """
        return self.k_per_min if self.usual_s is None else USUAL_SHARE * 60 / self.usual_s

    @property
    def k_doubt(self) -> float:
        """Get one standard deviation of the ln of the constant: less where a time is printed. Source: own."""
        return self.k_ln_doubt if self.usual_s is None else min(self.k_ln_doubt, USUAL_LN_DOUBT)


# A sample's numbers, in this order: speed, gamma infinity, constant, first appearance and its haste, toe,
# shoulder, coefficient, what "right" means, weight, shadow, light. `theta_of` makes each of a standard
# normal number.
LIGHT = 11
NUMBERS = 12
LIGHT_LN = 0.4  # the doubt of ln of how much worse or better light is estimated than is said: own

Theta = tuple[float, ...]


def theta_of(z: Sequence[float], prior: Prior) -> Theta:
    """Return the constants that standard normal numbers mean, in the order of this room.

    The speed's tails are heavier than a normal law's. Three are the eye's, as densities: half the width
    of "right" in contrast, of "right" in weight, and the shadow that is called right. The last is by how much
    worse or better this person estimates light than the plates' own doubts say.
    Source: own.
    """
    speed = z[0]
    return (
        prior.speed_stops + prior.speed_doubt_stops * speed * (1 + 0.06 * speed * speed),
        prior.gamma_inf * exp(prior.gamma_inf_ln_doubt * z[1]),
        prior.k_centre_per_min * exp(prior.k_doubt * z[2]),
        0.13 * exp(0.6 * z[3]),
        0.15 * exp(0.5 * z[4]),
        0.25 * exp(0.4 * z[5]),
        2.3 + 0.45 * z[6],
        max(0.005, prior.ln_per_K + prior.ln_per_K_doubt * z[7]),
        0.14 * exp(0.28 * z[8]),
        0.14 * exp(0.4 * z[9]),
        0.18 + 0.06 * z[10],
        exp(LIGHT_LN * z[11]),
    )


def emulsion_of(theta: Theta) -> Emulsion:
    """Return the plate's part of a sample. Source: own."""
    speed, gamma_inf, k, appears, sooner, toe, shoulder, ln_per_K = theta[:8]
    return Emulsion(speed, gamma_inf, k, ln_per_K, toe, shoulder, appears, sooner)
