"""The facts of a bath: made on a day, used by plates, seen to clear them, thrown away.

The subject of all of them is the bath's own id; as in `firmware_py.facts.events.run`, a class that has been
released is never changed. No age is kept, only days: a wrong wall clock can be put right afterwards.
"""

from __future__ import annotations

from firmware_py.craft.formula import Kind
from firmware_py.facts import quantities as q
from firmware_py.facts.events.event import Event


class BathMade(Event, frozen=True, kw_only=True, tag="BathMade"):
    """A bath of ``volume_ml`` [ml] was made by a formula, at ``made_utc`` (ISO 8601, UTC).

    The figures of the day are kept with it: a litre does ``cm2_per_l`` [cm²/l], it keeps ``keeps_s`` [s],
    its development grows by ``longer_percent`` [%] for every ``longer_every_cm2_per_l`` [cm²/l] done, its
    fresh fixer clears a plate in ``fresh_clearing_s`` [s], and it works at ``works_at_degC`` [degC]; None
    where nobody says.
    """

    name: str
    formula: str
    title: str
    kind: Kind
    volume_ml: q.Volume
    made_utc: str
    rehearsal: bool
    cm2_per_l: q.SomeArea | None = None
    capacity_source: str = ""
    keeps_s: q.SomeSeconds | None = None
    keeping_source: str = ""
    longer_percent: q.Percent | None = None
    longer_every_cm2_per_l: q.SomeArea | None = None
    fresh_clearing_s: q.SomeSeconds | None = None
    works_at_degC: q.Degrees | None = None

    def __post_init__(self) -> None:
        """Refuse a moment that is none."""
        q.require_moment(self.made_utc, "made_utc")


class BathUsed(Event, frozen=True, kw_only=True, tag="BathUsed"):
    """A plate of a run, or all the plates of its tray, ``area_cm2`` [cm²], went into the bath in a step."""

    run_id: str
    step: q.Count
    area_cm2: q.Area
    plate: str


class BathClearingSeen(Event, frozen=True, kw_only=True, tag="BathClearingSeen"):
    """A plate cleared in ``clearing_s`` [s]; ``fresh`` where that is the time of the fresh bath."""

    clearing_s: q.SomeSeconds
    fresh: bool = False
    run_id: str | None = None


class BathDated(Event, frozen=True, kw_only=True, tag="BathDated"):
    """The person put right when the bath was made."""

    made_utc: str

    def __post_init__(self) -> None:
        """Refuse a moment that is none."""
        q.require_moment(self.made_utc, "made_utc")


class BathWarmthSet(Event, frozen=True, kw_only=True, tag="BathWarmthSet"):
    """The person set the temperature [degC] that the heater shall give this bath."""

    works_at_degC: q.Degrees


class BathDiscarded(Event, frozen=True, kw_only=True, tag="BathDiscarded"):
    """The bath was thrown away, by the rules that hold where it was."""

    why: str


AnyBathEvent = BathMade | BathUsed | BathClearingSeen | BathDated | BathWarmthSet | BathDiscarded
