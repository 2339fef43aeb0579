"""Routines as a person writes them: TOML files, read into `firmware_py.craft.routine.Routine`."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import resources
from pathlib import Path
from typing import Annotated

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Development, Routine, SheetName, Step, StepKind
from firmware_py.craft.temperature import rate_of, read_coefficient
from firmware_py.strict_toml import DegC, Seconds, read_toml

LONGEST_STEP_S = 24 * 3600.0
LONGEST_DEVELOPMENT_S = 4 * 3600.0

Name = Annotated[str, msgspec.Meta(min_length=1, max_length=80)]


class DevelopmentText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``[step.development]``: the time wanted, and either a coefficient or a printed table."""

    target: Seconds
    reference: DegC
    coefficient: str | None = None
    table: list[tuple[DegC, Seconds]] | None = None
    low: DegC | None = None
    high: DegC | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        _within("target", self.target, 1.0, LONGEST_DEVELOPMENT_S)
        if (self.coefficient is None) == (self.table is None):
            raise ValueError("needs either `coefficient` or `table`, and not both")

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
        )
        rate_of(made).rate(made.reference_degC)
        return made


class StepText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``[[step]]``."""

    name: Name
    kind: StepKind
    bath: Name
    time: Seconds | None = None
    agitate_every: Seconds | None = None
    low: DegC | None = None
    high: DegC | None = None
    development: DevelopmentText | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.kind == "develop") != (self.development is not None):
            raise ValueError("a `develop` step, and no other, has a `development` table")
        if (self.time is None) == (self.development is None):
            raise ValueError("a step that does not develop needs a `time`; one that does has a `target`")
        if self.time is not None:
            _within("time", self.time, 1.0, LONGEST_STEP_S)
        if self.agitate_every is not None:
            _within("agitate_every", self.agitate_every, 1.0, 3600.0)

    def step(self) -> Step:
        """Return the step."""
        return Step(
            name=self.name,
            kind=self.kind,
            bath=self.bath,
            time_s=float(self.time or 0.0),
            development=self.development.development() if self.development else None,
            low_degC=None if self.low is None else float(self.low),
            high_degC=None if self.high is None else float(self.high),
            agitate_every_s=None if self.agitate_every is None else float(self.agitate_every),
        )


class RoutineText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A routine file."""

    title: Name
    source: Annotated[str, msgspec.Meta(min_length=1, max_length=2000)]
    step: Annotated[list[StepText], msgspec.Meta(min_length=1, max_length=40)]
    marks: Annotated[tuple[Name, ...], msgspec.Meta(min_length=1, max_length=9)] = ("image appears",)
    sheet: SheetName = "plate"


def _within(key: str, value_s: float, low_s: float, high_s: float) -> None:
    if not low_s <= value_s <= high_s:
        raise ValueError(f"`{key}` is {value_s:g} s; allowed: {low_s:g} s to {high_s:g} s")


def read_routine(path: Path) -> Routine:
    """Return the routine in a file, called after the file.

    Raises Refused with file, key, what was found and what is allowed.
    """
    text = read_toml(path, RoutineText)
    steps = []
    for number, step in enumerate(text.step, 1):
        try:
            steps.append(step.step())
        except Refused as refusal:
            raise refusal.at(f"{path}, step {number} ({step.name})") from refusal
    return Routine(
        name=path.stem,
        title=text.title,
        source=text.source,
        steps=tuple(steps),
        marks=tuple(text.marks),
        sheet=text.sheet,
    )


def shipped_routines() -> Mapping[str, Routine]:
    """Return the routines that come with Embertray, by name."""
    folder = resources.files("firmware_py.data") / "routines"
    with resources.as_file(folder) as path:
        return routines_in(path)


def routines_in(folder: Path) -> dict[str, Routine]:
    """Return the routines of every ``.toml`` file in a folder, by name; those for plates first."""
    return plates_first({path.stem: read_routine(path) for path in sorted(folder.glob("*.toml"))})


def plates_first(routines: Mapping[str, Routine]) -> dict[str, Routine]:
    """Return the routines in their order, but those for paper behind those for plates."""
    return dict(sorted(routines.items(), key=lambda named: named[1].sheet != "plate"))
