"""What a routine file may say: its tables and keys, each with its bounds."""

from __future__ import annotations

from typing import Annotated

import msgspec

from firmware_py.bench.vocabulary import MarkName, Role
from firmware_py.craft.appearance import LARGEST_FACTOR
from firmware_py.craft.routine import Clearing, Development, EndKind, Light, SheetName, Step, StepKind
from firmware_py.craft.temperature import PRINTED_RATE_DOUBT, rate_of, read_coefficient
from firmware_py.strict_toml import DegC, Seconds

LONGEST_STEP_S = 24 * 3600.0
LONGEST_DEVELOPMENT_S = 4 * 3600.0
MOST_WATERS = 30

Name = Annotated[str, msgspec.Meta(min_length=1, max_length=80)]


class DevelopmentText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``[step.development]``: the time wanted, either a coefficient or a printed table, and what ends it.

    ``low`` and ``high`` bound the range in which the rate was tested; ``rate_doubt`` is the share of its
    logarithm in doubt, within which the truth lies about 19 times in 20.
    """

    target: Seconds
    reference: DegC
    coefficient: str | None = None
    table: list[tuple[DegC, Seconds]] | None = None
    low: DegC | None = None
    high: DegC | None = None
    rate_doubt: Annotated[float, msgspec.Meta(ge=0.0, le=1.0)] = PRINTED_RATE_DOUBT
    ends: EndKind | list[EndKind] = "time"
    factor: Annotated[float, msgspec.Meta(ge=1.0, le=LARGEST_FACTOR)] | None = None
    ceiling: Seconds | None = None
    longest: Seconds | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        within("target", self.target, 1.0, LONGEST_DEVELOPMENT_S)
        if (self.coefficient is None) == (self.table is None):
            raise ValueError("needs either `coefficient` or `table`, and not both")
        ends = self.ending()
        if not ends or len(set(ends)) != len(ends):
            raise ValueError("`ends` names each of `time`, `appearance` and `inspection` at most once")
        if "appearance" in ends and self.factor is None:
            raise ValueError("a development that `ends` by `appearance` needs a `factor`")
        if "time" not in ends and self.ceiling is None and self.longest is None:
            raise ValueError("a development that does not end by `time` needs a `ceiling` or a `longest`")
        if self.ceiling is not None:
            within("ceiling", self.ceiling, float(self.target), LONGEST_DEVELOPMENT_S)
        if self.longest is not None:
            within("longest", self.longest, 1.0, LONGEST_DEVELOPMENT_S)

    def ending(self) -> tuple[EndKind, ...]:
        """Return what may end it."""
        return (self.ends,) if isinstance(self.ends, str) else tuple(self.ends)

    def development(self) -> Development:
        """Return the development, its rate tried once so that nonsense is refused here."""
        table = tuple((float(t), float(s)) for t, s in self.table or ())
        low, high = (table[0][0], table[-1][0]) if table else (13.0, 25.0)
        made = Development(
            target_s=float(self.target),
            reference_degC=float(self.reference),
            low_degC=float(self.low) if self.low is not None else low,
            high_degC=float(self.high) if self.high is not None else high,
            ln_per_K=read_coefficient(self.coefficient, where="coefficient") if self.coefficient else None,
            table=table,
            ends=self.ending(),
            factor=self.factor,
            ceiling_s=_plain(self.ceiling),
            longest_s=_plain(self.longest),
            beyond="law",
            rate_doubt=self.rate_doubt,
        )
        rate_of(made).rate(made.reference_degC)
        return made


class StepText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``[[step]]``: a bath, how long in it, and how the bench is to be kept meanwhile.

    ``time`` is how long; with ``clearing`` at the least. A wash in ``changes`` waters has ``each`` instead.
    """

    name: Name
    kind: StepKind
    bath: Name
    time: Seconds | None = None
    each: Seconds | None = None
    changes: Annotated[int, msgspec.Meta(ge=2, le=MOST_WATERS)] | None = None
    clearing: Clearing | None = None
    agitate_every: Seconds | None = None
    low: DegC | None = None
    high: DegC | None = None
    light: Light | None = None
    development: DevelopmentText | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.kind == "develop") != (self.development is not None):
            raise ValueError("a `develop` step, and no other, has a `development` table")
        if (self.changes is None) != (self.each is None):
            raise ValueError("a wash in waters has `changes` and `each`; running water has a `time`")
        if self.changes is not None and self.kind != "wash":
            raise ValueError("only a `wash` has `changes`")
        if self.clearing is not None and self.kind != "fix":
            raise ValueError("only a `fix` has `clearing`")
        if sum(x is not None for x in (self.time, self.each, self.development)) != 1:
            raise ValueError(
                "a step that does not develop needs a `time` (a wash in waters: `each`); one that does has a "
                "`target`"
            )
        if self.low is not None and self.high is not None and self.low >= self.high:
            raise ValueError(f"`low` is {self.low:g} degC; allowed: below `high`, {self.high:g} degC")
        for key, value_s, most_s in (
            ("time", self.time, LONGEST_STEP_S),
            ("each", self.each, LONGEST_STEP_S),
            ("agitate_every", self.agitate_every, 3600.0),
        ):
            if value_s is not None:
                within(key, value_s, 1.0, most_s)

    def step(self) -> Step:
        """Return the step."""
        return Step(
            name=self.name,
            kind=self.kind,
            bath=self.bath,
            time_s=float(self.time or self.each or 0.0),
            development=self.development.development() if self.development else None,
            low_degC=_plain(self.low),
            high_degC=_plain(self.high),
            agitate_every_s=_plain(self.agitate_every),
            clearing=self.clearing,
            changes=self.changes or 1,
            light=self.light or "white",
        )


class MarkText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A mark of this routine with a role that the bench's list does not give it."""

    name: MarkName
    role: Role | None = None


class RoutineText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A routine file; without ``marks`` all those of the bench's list can be made."""

    title: Name
    source: Annotated[str, msgspec.Meta(min_length=1, max_length=2000)]
    step: Annotated[list[StepText], msgspec.Meta(min_length=1, max_length=40)]
    marks: Annotated[list[MarkName | MarkText], msgspec.Meta(min_length=1, max_length=20)] | None = None
    sheet: SheetName = "plate"

    def __post_init__(self) -> None:
        """Refuse two marks of one name or role, and a fixer that counts by a bath that never was."""
        marks = [MarkText(name=m) if isinstance(m, str) else m for m in self.marks or ()]
        names = [m.name for m in marks]
        roles = [m.role for m in marks if m.role is not None]
        for what, found in (("name", names), ("role", roles)):
            if len(set(found)) != len(found):
                raise ValueError(f"two of `marks` have one {what}; each needs its own")
        seen_to_clear = False
        for step in self.step:
            if step.clearing == "again" and not seen_to_clear:
                raise ValueError(f'`{step.name}` is `clearing = "again"`, but no fixer before it is watched')
            seen_to_clear |= step.clearing in {"once", "twice"}


def within(key: str, value_s: float, low_s: float, high_s: float) -> None:
    """Raise ValueError where a time [s] lies outside its bounds."""
    if not low_s <= value_s <= high_s:
        raise ValueError(f"`{key}` is {value_s:g} s; allowed: {low_s:g} s to {high_s:g} s")


def _plain(value: float | None) -> float | None:
    return None if value is None else float(value)
