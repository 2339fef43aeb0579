"""What a balance can show of a reckoned weight, and what that costs in strength."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from firmware_py.craft.refusal import Refused

USUAL_BALANCE_G = 0.1  # a kitchen-drawer pocket balance; common practice, no source
WORST_ROUNDING_PERCENT = 5.0  # beyond this a card warns; common practice, no source
FINEST_BALANCE_G, COARSEST_BALANCE_G = 0.0001, 10.0


@dataclass(frozen=True, slots=True)
class Weighing:
    """A weight [g] as a balance of step ``balance_g`` [g] shows it, and its error [%]. Source: own."""

    grams: float
    weigh_g: float
    balance_g: float
    rounding_percent: float

    @property
    def shown(self) -> str:
        """Get the weight with as many decimals as the balance shows. Source: own."""
        return f"{self.weigh_g:.{_decimals(self.balance_g)}f} g"

    @property
    def is_coarse(self) -> bool:
        """Get whether rounding costs more than `WORST_ROUNDING_PERCENT`. Source: as that limit."""
        return abs(self.rounding_percent) > WORST_ROUNDING_PERCENT


def weighed(grams: float, balance_g: float = USUAL_BALANCE_G) -> Weighing:
    """Return ``grams`` [g] rounded to the steps of the balance [g], halves up, with the error [%].

    Valid for weights above 0 g and balances of 0.0001 to 10 g; raises `Refused` outside.
    Source: arithmetic; the usual balance is common practice, no source.
    """
    if not 0 < grams < math.inf:
        raise Refused(f"{grams:g} g can not be weighed", where="weighing", allowed="above 0 g")
    if not FINEST_BALANCE_G <= balance_g <= COARSEST_BALANCE_G:
        raise Refused(
            f"no balance shows steps of {balance_g:g} g",
            where="--balance",
            allowed=f"{FINEST_BALANCE_G:g} to {COARSEST_BALANCE_G:g} g",
        )
    step = Decimal(repr(balance_g))
    steps = (Decimal(repr(grams)) / step).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    weigh_g = float(steps * step)
    return Weighing(grams, weigh_g, balance_g, (weigh_g / grams - 1) * 100)


def smallest_batch_factor(weighing: Weighing) -> float:
    """Return how many times as large a batch must be for rounding never to cost more than the worst allowed.

    Half a step of the balance is then `WORST_ROUNDING_PERCENT` of the weight; 1 if it already is.
    Source: arithmetic.
    """
    enough_g = weighing.balance_g / 2 / (WORST_ROUNDING_PERCENT / 100)
    return max(1.0, enough_g / weighing.grams)


def _decimals(step_g: float) -> int:
    exponent = Decimal(repr(step_g)).normalize().as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0
