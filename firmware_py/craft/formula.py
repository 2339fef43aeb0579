"""What a formula is: solutions of weighed salts as printed, and what print says of their use."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import StepKind
from firmware_py.craft.salts import Salt

Column = Literal["printed", "metric"]
Kind = Literal["developer", "fixer", "stop bath", "clearing bath", "hardener", "reducer", "other"]
# The kind of bath that a step is done in; a step that does not stand here may be done in any.
MADE_FOR: Mapping[StepKind, Kind] = MappingProxyType(
    {"develop": "developer", "stop": "stop bath", "fix": "fixer", "clear": "clearing bath"}
)


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount as printed, and what it is: grams [g] of a solid or millilitres [ml] of a liquid, never both.

    Source: own.
    """

    text: str
    grams: float | None = None
    volume_ml: float | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """One salt of a solution, in both columns where the book prints two.

    ``may_be_kin`` says that the formula allows the salt of the other metal, mole for mole. Source: own.
    """

    salt: Salt
    printed: Amount
    metric: Amount | None = None
    may_be_kin: bool = False
    advice: str = ""

    def amount(self, column: Column) -> Amount:
        """Return the amount of one column; raise `Refused` where print has none. Source: the formula's."""
        return _of_column(self.printed, self.metric, column, self.salt.name)


@dataclass(frozen=True, slots=True)
class Solution:
    """Water and what goes into it, in the order of mixing.

    ``made_up`` tells "water to make" from "into this much water". ``start_share`` of the water, at
    ``start_degC`` [degC] where it matters, takes the salts. Source: own.
    """

    name: str
    parts: tuple[Part, ...]
    water: Amount
    water_metric: Amount | None = None
    made_up: bool = True
    start_share: float = 0.75
    start_degC: float | None = None
    advice: tuple[str, ...] = ()

    def water_ml(self, column: Column) -> float:
        """Return the water [ml] of one column. Source: the formula's."""
        volume_ml = _of_column(self.water, self.water_metric, column, "water").volume_ml
        assert volume_ml is not None
        return volume_ml


@dataclass(frozen=True, slots=True)
class Working:
    """How the bath is made from the solutions: by parts of each (and of water), or led by one of them.

    Source: own.
    """

    parts: tuple[tuple[str, float], ...] = ()
    basis: str = ""
    advice: str = ""


@dataclass(frozen=True, slots=True)
class Keeping:
    """How long the solutions [s] and the mixed bath [s] keep, None where nobody says. Source: its own."""

    unmixed_s: float | None
    mixed_s: float | None
    source: str


@dataclass(frozen=True, slots=True)
class Capacity:
    """How much plate a litre of the bath does [cm²/l], and how its time grows on the way there.

    ``longer_percent`` [%] is added for every ``longer_every_cm2_per_l`` [cm²/l] done. Source: its own.
    """

    cm2_per_l: float
    source: str
    longer_percent: float | None = None
    longer_every_cm2_per_l: float | None = None


@dataclass(frozen=True, slots=True)
class DevelopmentData:
    """What print says of how fast a developer works: each datum with its own source.

    ``coefficient`` is the text with its definition and ``ln_per_K`` [1/K] what it comes to, good from
    ``low_degC`` to ``high_degC`` [degC]; ``factor`` multiplies the time of first appearance. Source: its own.
    """

    reference_degC: float | None = None
    low_degC: float | None = None
    high_degC: float | None = None
    coefficient: str = ""
    ln_per_K: float | None = None
    coefficient_source: str = ""
    time_s: float | None = None
    time_source: str = ""
    factor: float | None = None
    factor_source: str = ""


@dataclass(frozen=True, slots=True)
class Formula:
    """A formula as printed, with its source. Source: its own."""

    name: str
    title: str
    kind: Kind
    source: str
    measures: str
    solutions: tuple[Solution, ...]
    working: Working = Working()
    keeping: Keeping | None = None
    capacity: Capacity | None = None
    development: DevelopmentData | None = None
    cautions: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()

    @property
    def has_metric_column(self) -> bool:
        """Get whether the book prints metric weights beside the others. Source: the formula's."""
        return any(part.metric for solution in self.solutions for part in solution.parts)

    def solution(self, name: str) -> Solution:
        """Return the solution called ``name``; raise `Refused` with the names there are. Source: own."""
        for solution in self.solutions:
            if solution.name == name:
                return solution
        raise Refused(
            f'no solution "{name}"', where=self.name, allowed=", ".join(one.name for one in self.solutions)
        )


def _of_column(printed: Amount, metric: Amount | None, column: Column, what: str) -> Amount:
    if column == "printed":
        return printed
    if metric is None:
        raise Refused(f"the book prints no metric column for {what}", where="--as", allowed="printed")
    return metric
