"""What a formula file may say, table by table, and what each table becomes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from typing import Annotated, TypeVar

import msgspec

from firmware_py.craft.coefficient import read_coefficient
from firmware_py.craft.formula import (
    Amount,
    Capacity,
    DevelopmentData,
    Formula,
    Keeping,
    Kind,
    Part,
    Solution,
    Working,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.salts import salt_named
from firmware_py.craft.units import read_area_cm2, read_volume_ml
from firmware_py.data.as_printed import Measure, Ounce, System, read_water, read_weighed
from firmware_py.strict_toml import DegC, Seconds

METRIC = System()
WATER = "water"
START_SHARE = 0.75  # of the water, where a solution is made up to a volume; common practice, no source

T = TypeVar("T")
# a formula's words go to the terminal: nothing in them may move a cursor or change a colour
PLAIN = r"^[^\x00-\x1f\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff]*$"
Line = Annotated[str, msgspec.Meta(min_length=1, max_length=400, pattern=PLAIN)]
Word = Annotated[str, msgspec.Meta(min_length=1, max_length=80, pattern=PLAIN)]
Remark = Annotated[str, msgspec.Meta(max_length=400, pattern=PLAIN)]
AboveZero = Annotated[float, msgspec.Meta(gt=0, le=1e6)]


class Table(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A table of a formula file."""


class PrintText(Table, frozen=True, kw_only=True):
    """``[print]``: which ounce, which pint, and whether parts are grams in millilitres."""

    ounce: Ounce | None = None
    measure: Measure | None = None
    parts: bool = False

    def system(self) -> System:
        """Return the system of weights and measures."""
        return System(self.ounce, self.measure, self.parts)


class PartText(Table, frozen=True, kw_only=True):
    """``[[solution.part]]``: a salt, and its weight in one or both columns of the book."""

    salt: Word
    printed: Word
    metric: Word | None = None
    sodium_or_potassium: bool = False
    advice: Remark = ""

    def part(self, system: System, where: str) -> Part:
        """Return the part, its weights read."""
        salt = _in(f"{where}, key `salt`", lambda: salt_named(self.salt))
        here, liquid = f"{where} ({salt.name})", salt.substance.liquid
        metric = None
        if self.metric is not None:
            metric = read_weighed(self.metric, METRIC, liquid=liquid, where=f"{here}, key `metric`")
        printed = read_weighed(self.printed, system, liquid=liquid, where=f"{here}, key `printed`")
        return Part(salt, printed, metric, may_be_kin=self.sodium_or_potassium, advice=self.advice)


class SolutionText(Table, frozen=True, kw_only=True):
    """``[[solution]]``: water ("to 10 oz" or "20 oz") and its parts in the order of mixing."""

    name: Word
    water: Word
    part: Annotated[list[PartText], msgspec.Meta(min_length=1, max_length=20)]
    water_metric: Word | None = None
    start_share: Annotated[float, msgspec.Meta(ge=0.1, le=1)] | None = None
    start_at: DegC | None = None
    advice: Annotated[list[Line], msgspec.Meta(max_length=10)] = []

    def solution(self, system: System, where: str) -> Solution:
        """Return the solution, its water and weights read."""
        here = f'{where} ("{self.name}")'
        water, made_up = read_water(self.water, system, where=f"{here}, key `water`")
        return Solution(
            name=self.name,
            parts=tuple(one.part(system, f"{here}, part {n}") for n, one in enumerate(self.part, 1)),
            water=water,
            water_metric=self._metric_water(made_up, f"{here}, key `water_metric`"),
            made_up=made_up,
            start_share=self.start_share or (START_SHARE if made_up else 1.0),
            start_degC=None if self.start_at is None else float(self.start_at),
            advice=tuple(self.advice),
        )

    def _metric_water(self, made_up: bool, where: str) -> Amount | None:
        if len({self.water_metric is None, *(part.metric is None for part in self.part)}) > 1:
            raise Refused("the metric column has gaps", where=where, allowed="metric everywhere, or nowhere")
        if self.water_metric is None:
            return None
        water, metric_made_up = read_water(self.water_metric, METRIC, where=where)
        if metric_made_up != made_up:
            raise Refused(
                'one column says "to" and the other does not', where=where, allowed="both, or neither"
            )
        return water


class WorkingText(Table, frozen=True, kw_only=True):
    """``[working]``: how the bath is poured together; or which solution leads."""

    parts: dict[str, AboveZero] | None = None
    basis: Remark = ""
    advice: Remark = ""

    def working(self, names: list[str], where: str) -> Working:
        """Return the working bath; refuse solutions that do not exist, and solutions left out."""
        parts = self.parts or {}
        unknown = [name for name in (*parts, self.basis) if name and name not in {*names, WATER}]
        if unknown or self.basis == WATER:
            raise Refused(f'no solution "{(unknown or [WATER])[0]}"', where=where, allowed=", ".join(names))
        if parts and self.basis:
            raise Refused("both parts and a basis", where=where, allowed="one of them")
        left_out = [name for name in names if parts and name not in parts]
        if left_out:
            raise Refused(
                f'solution "{left_out[0]}" is left out', where=where, allowed="parts of each solution"
            )
        return Working(tuple(parts.items()), self.basis, self.advice)


class KeepingText(Table, frozen=True, kw_only=True):
    """``[keeping]``: how long the solutions and the mixed bath keep, and who says so."""

    source: Line
    unmixed: Seconds | None = None
    mixed: Seconds | None = None

    def keeping(self) -> Keeping:
        """Return the keeping times."""
        return Keeping(_plain(self.unmixed), _plain(self.mixed), self.source)


class CapacityText(Table, frozen=True, kw_only=True):
    """``[capacity]``: the area of plate that a volume does, how its time grows, and who says so."""

    area: Word
    per: Word
    source: Line
    longer_percent: Annotated[float, msgspec.Meta(gt=0, le=100)] | None = None
    longer_every: Word | None = None

    def capacity(self, where: str) -> Capacity:
        """Return the capacity of a litre."""
        if (self.longer_percent is None) != (self.longer_every is None):
            raise Refused(
                "half a rule of lengthening", where=where, allowed="longer_percent and longer_every"
            )
        per_l = read_volume_ml(self.per, where=f"{where}, key `per`") / 1000
        if per_l <= 0:
            raise Refused(f'"{self.per}" is no volume', where=f"{where}, key `per`", allowed="above 0 ml")
        every = None
        if self.longer_every is not None:
            every = read_area_cm2(self.longer_every, where=f"{where}, key `longer_every`") / per_l
        area_cm2 = read_area_cm2(self.area, where=f"{where}, key `area`")
        if area_cm2 <= 0 or every == 0:
            raise Refused("no area", where=where, allowed="above 0 cm2")
        return Capacity(area_cm2 / per_l, self.source, self.longer_percent, every)


class DevelopmentText(Table, frozen=True, kw_only=True):
    """``[development]``: what print says of speed; each datum names its source."""

    reference: DegC | None = None
    low: DegC | None = None
    high: DegC | None = None
    coefficient: Word | None = None
    coefficient_source: Line | None = None
    time: Seconds | None = None
    time_source: Line | None = None
    factor: Annotated[float, msgspec.Meta(gt=1, le=100)] | None = None
    factor_source: Line | None = None

    def development(self, where: str) -> DevelopmentData:
        """Return the data; refuse a datum without its source, or a source without its datum."""
        for key in ("coefficient", "time", "factor"):
            if (getattr(self, key) is None) != (getattr(self, f"{key}_source") is None):
                raise Refused(
                    f"`{key}` and `{key}_source` go together", where=where, allowed="both, or neither"
                )
        if self.time is not None and self.reference is None:
            raise Refused("a time without its temperature", where=where, allowed="`reference` beside `time`")
        return DevelopmentData(
            reference_degC=_plain(self.reference),
            low_degC=_plain(self.low),
            high_degC=_plain(self.high),
            coefficient=self.coefficient or "",
            ln_per_K=self._ln_per_K(f"{where}, key `coefficient`"),
            coefficient_source=self.coefficient_source or "",
            time_s=_plain(self.time),
            time_source=self.time_source or "",
            factor=self.factor,
            factor_source=self.factor_source or "",
        )

    def _ln_per_K(self, where: str) -> float | None:
        return None if self.coefficient is None else read_coefficient(self.coefficient, where=where)


class FormulaText(Table, frozen=True, kw_only=True):
    """A formula file."""

    title: Word
    kind: Kind
    source: Line
    solution: Annotated[list[SolutionText], msgspec.Meta(min_length=1, max_length=6)]
    print: PrintText = PrintText()
    working: WorkingText = WorkingText()
    keeping: KeepingText | None = None
    capacity: CapacityText | None = None
    development: DevelopmentText | None = None
    cautions: Annotated[list[Line], msgspec.Meta(max_length=10)] = []
    remarks: Annotated[list[Line], msgspec.Meta(max_length=10)] = []

    def formula(self, name: str, where: str) -> Formula:
        """Return the formula called ``name``; refusals name the place in the file ``where``."""
        names = [one.name for one in self.solution]
        twice = [one for one, times in Counter([*names, WATER]).items() if times > 1]
        if twice:
            raise Refused(f'"{twice[0]}" names two things', where=where, allowed="a name for each solution")
        system = self.print.system()
        return Formula(
            name=name,
            title=self.title,
            kind=self.kind,
            source=self.source,
            measures=system.said,
            solutions=tuple(
                one.solution(system, f"{where}, solution {n}") for n, one in enumerate(self.solution, 1)
            ),
            working=self.working.working(names, f"{where}, table `working`"),
            keeping=self.keeping.keeping() if self.keeping else None,
            capacity=self.capacity.capacity(f"{where}, table `capacity`") if self.capacity else None,
            development=self.development.development(f"{where}, table `development`")
            if self.development
            else None,
            cautions=tuple(self.cautions),
            remarks=tuple(self.remarks),
        )


def _in(where: str, reading: Callable[[], T]) -> T:
    try:
        return reading()
    except Refused as refused:
        raise Refused(refused.what, where=where, allowed=refused.allowed) from refused


def _plain(value: float | None) -> float | None:
    return None if value is None else float(value)
