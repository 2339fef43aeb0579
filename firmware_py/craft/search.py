"""Where a cost is least: the golden section search, once for the whole craft."""

from __future__ import annotations

import math
from collections.abc import Callable

GOLDEN = (math.sqrt(5) - 1) / 2


def golden_section(cost: Callable[[float], float], low: float, high: float, *, within: float) -> float:
    """Return where ``cost`` is least between ``low`` and ``high``, to ``within``, at one call for each step.

    Exact for a cost with one dip; of several dips it finds one. ``low`` must not be above ``high`` and
    ``within`` must be above 0, in the unit of both.
    Source: J. Kiefer, "Sequential minimax search for a maximum", Proc. Amer. Math. Soc. 4 (1953), 502;
    from memory.
    """
    left, right = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_left, at_right = cost(left), cost(right)
    while high - low > within:
        if at_left <= at_right:
            high, right, at_right = right, left, at_left
            left = high - GOLDEN * (high - low)
            at_left = cost(left)
        else:
            low, left, at_left = left, right, at_right
            right = low + GOLDEN * (high - low)
            at_right = cost(right)
    return (low + high) / 2
