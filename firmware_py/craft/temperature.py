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
from firmware_py.craft.equivalent import (
    EquivalentDoubt,
    doubt,
    equivalent_step,
    equivalent_time,
    time_at,
    time_doubt,
    time_left,
)
from firmware_py.craft.rates import (
    PRINTED_RATE_DOUBT,
    CoefficientRate,
    Rate,
    TableRate,
    ln_rate_doubt,
    outside_K,
    rate_of,
    running_rate,
)

__all__ = [
    "PRINTED_RATE_DOUBT",
    "CoefficientRate",
    "Drift",
    "EquivalentDoubt",
    "MeasuredCoefficient",
    "Rate",
    "TableRate",
    "doubt",
    "equivalent_step",
    "equivalent_time",
    "fit_drift",
    "k25_k15_from_ln_per_K",
    "ln_per_K_from_k25_k15",
    "ln_per_K_from_log10",
    "ln_per_K_from_ratio",
    "ln_rate_doubt",
    "log10_per_K_from_ln",
    "measured_coefficient",
    "outside_K",
    "rate_of",
    "ratio_from_ln_per_K",
    "read_coefficient",
    "running_rate",
    "time_at",
    "time_doubt",
    "time_left",
    "time_left_along",
]
