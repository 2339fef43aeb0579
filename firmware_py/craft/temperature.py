"""Temperature and development, in one place: the coefficient, the rate, equivalent time, the drifting bath.

The rooms behind this door are `coefficient`, `rates`, `equivalent` and `cooling`.
"""

from firmware_py.craft.coefficient import (
    MeasuredCoefficient,
    k25_k15_from_ln_per_K,
    ln_per_K_from_k25_k15,
    ln_per_K_from_log10,
    ln_per_K_from_ratio,
    log10_per_K_from_ln,
    measured_coefficient,
    ratio_from_ln_per_K,
    read_coefficient,
)
from firmware_py.craft.cooling import Drift, fit_drift, time_left_along
from firmware_py.craft.equivalent import doubt, equivalent_step, equivalent_time, time_at, time_left
from firmware_py.craft.rates import CoefficientRate, Rate, TableRate, held_rate, rate_of

__all__ = [
    "CoefficientRate",
    "Drift",
    "MeasuredCoefficient",
    "Rate",
    "TableRate",
    "doubt",
    "equivalent_step",
    "equivalent_time",
    "fit_drift",
    "held_rate",
    "k25_k15_from_ln_per_K",
    "ln_per_K_from_k25_k15",
    "ln_per_K_from_log10",
    "ln_per_K_from_ratio",
    "log10_per_K_from_ln",
    "measured_coefficient",
    "rate_of",
    "ratio_from_ln_per_K",
    "read_coefficient",
    "time_at",
    "time_left",
    "time_left_along",
]
