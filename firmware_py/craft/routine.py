"""What a routine is: the ordered steps a plate goes through, and how each of them ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

StepKind = Literal["soak", "develop", "rinse", "stop", "fix", "clear", "wash", "wet", "dry"]


@dataclass(frozen=True, slots=True)
class Development:
    """How fast a developer works at which temperature, and how long it should.

    Exactly one of ``ln_per_K`` and ``table`` is given: the rate as ln of the ratio of rates for one
    kelvin, or a published time-temperature table of (bath_degC, time_s) pairs.
    ``target_s`` [s] is the time wanted at ``reference_degC`` [degC]; outside ``low_degC`` to
    ``high_degC`` the rate is not known. Source: the routine's own ``source``.
    """

    target_s: float
    reference_degC: float
    low_degC: float
    high_degC: float
    ln_per_K: float | None = None
    table: tuple[tuple[float, float], ...] = ()


@dataclass(frozen=True, slots=True)
class Step:
    """One step: a bath, and the time in it.

    A *develop* step ends when its equivalent time reaches the target; every other step is due after
    ``time_s`` [s] and then waits for the person to move the plate on.
    ``low_degC`` and ``high_degC`` [degC] are the window outside which the bench warns.
    """

    name: str
    kind: StepKind
    bath: str
    time_s: float = 0.0
    development: Development | None = None
    low_degC: float | None = None
    high_degC: float | None = None
    agitate_every_s: float | None = None


@dataclass(frozen=True, slots=True)
class Routine:
    """The ordered steps for a plate, the marks a person may make on the way, and where it comes from."""

    name: str
    title: str
    source: str
    steps: tuple[Step, ...]
    marks: tuple[str, ...] = ("image appears", "shadow detail shows")
