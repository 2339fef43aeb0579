"""The pieces of a run as it went: temperatures, marks and steps."""

from __future__ import annotations

from dataclasses import dataclass, field

from firmware_py.craft.temperature import EquivalentDoubt
from firmware_py.facts.events import run as ev


@dataclass(frozen=True, slots=True)
class Sample:
    """A temperature [degC] in the run at ``run_s`` [s since the run was opened], by its source.

    ``step`` is the one whose bath it is of; -1 where the plate lay in none.
    """

    run_s: float
    bath_degC: float
    tolerance_K: float
    source: ev.TemperatureSource
    step: int = -1


@dataclass(frozen=True, slots=True)
class MarkRecord:
    """A mark, by the step it was made in, seconds in that step, and equivalent seconds where developing."""

    what: str
    step: int
    elapsed_s: float
    equivalent_s: float | None


@dataclass(slots=True)
class StepRecord:
    """A step as it went: times [s since the run was opened] and, in a developer, the equivalent time [s].

    ``changed_s`` are the changes of water, ``doubt_s`` is what a resumption in it left uncertain, and
    ``left_window`` whether its bath was ever found outside the window that the routine wants.
    ``equivalent_doubt`` is how far the equivalent time may be off; ``outside_K`` [K] the farthest that the
    bath was outside the tested range (below 0 in the cold), ``outside_s`` [s] how long. ``out_s`` [s] is how
    long the plate was out of the bath by pulls that were taken back.
    """

    step: int
    started_s: float
    due_s: float | None = None
    ended_s: float | None = None
    why: ev.StepEnd | None = None
    equivalent_s: float = 0.0
    changed_s: list[float] = field(default_factory=list)
    doubt_s: float = 0.0
    left_window: bool = False
    equivalent_doubt: EquivalentDoubt = field(default_factory=EquivalentDoubt)
    outside_K: float = 0.0
    outside_s: float = 0.0
    out_s: float = 0.0
