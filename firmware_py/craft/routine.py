"""What a routine is: the ordered steps a plate goes through, and how each of them ends."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from firmware_py.craft.refusal import Refused

SheetName = Literal["plate", "paper"]
StepKind = Literal["soak", "develop", "rinse", "stop", "fix", "clear", "wash", "wet", "dry"]
# What may end a development: the equivalent time, the first appearance times a factor, a person's eye.
EndKind = Literal["time", "appearance", "inspection"]
# How long a fixer is wanted: until the plate is clear, twice that, or as long again as it took before.
Clearing = Literal["once", "twice", "again"]
# What a development does outside the tested range of its rate: hold the edge's (plans from before the law
# went on there, so that their books keep their numbers), or go on by the same law.
BeyondRange = Literal["held", "law"]
Light = Literal["safelight", "dark", "white"]

# What a kept routine may say at all. What a routine file may say is narrower, and stands where it is read.
COLDEST_DEGC, HOTTEST_DEGC = -100.0, 300.0
SHORTEST_S, LONGEST_S = 1e-3, 1e7

APPEARANCE_MARK = "image appears"
CLEARING_MARK = "plate is clear"


@dataclass(frozen=True, slots=True)
class Development:
    """How fast a developer works at which temperature, and how long it should.

    Exactly one of ``ln_per_K`` and ``table`` is given: the rate as ln of the ratio of rates for one
    kelvin, or a published time-temperature table of (bath_degC, time_s) pairs.
    ``target_s`` [s] is the time wanted at ``reference_degC`` [degC]; from ``low_degC`` to ``high_degC`` the
    rate was tested, ``beyond`` says what holds outside. ``rate_doubt`` is the share of ln rate in doubt,
    0 where the plan did not say. The first of ``ends`` that comes ends it; where the time is none
    of them, ``target_s`` is only what it usually takes. ``factor`` is that of the first appearance.
    ``ceiling_s`` [s] of equivalent time and ``longest_s`` [s] of the clock are the most it may last.
    Source: the routine's own ``source``.
    """

    target_s: float
    reference_degC: float
    low_degC: float
    high_degC: float
    ln_per_K: float | None = None
    table: tuple[tuple[float, float], ...] = ()
    ends: tuple[EndKind, ...] = ("time",)
    factor: float | None = None
    ceiling_s: float | None = None
    longest_s: float | None = None
    beyond: BeyondRange = "held"
    rate_doubt: float = 0.0

    def __post_init__(self) -> None:
        """Refuse numbers with which nothing can be calculated."""
        _within("target_s", self.target_s, SHORTEST_S, LONGEST_S)
        for name in ("reference_degC", "low_degC", "high_degC"):
            _within(name, getattr(self, name), COLDEST_DEGC, HOTTEST_DEGC)
        _within("ln_per_K", self.ln_per_K, -1.0, 1.0)
        for bath_degC, time_s in self.table:
            _within("table", bath_degC, COLDEST_DEGC, HOTTEST_DEGC)
            _within("table", time_s, SHORTEST_S, LONGEST_S)
        _within("factor", self.factor, 0.1, 1000.0)
        _within("ceiling_s", self.ceiling_s, SHORTEST_S, LONGEST_S)
        _within("longest_s", self.longest_s, SHORTEST_S, LONGEST_S)


@dataclass(frozen=True, slots=True)
class Step:
    """One step: a bath, and the time in it.

    A *develop* step ends as its development says; every other step is due after ``time_s`` [s] and then
    waits for the person to move the plate on. With ``clearing`` that time is the least, and the plate's
    clearing decides; with ``changes`` it is so many waters of ``time_s`` each, changed by the person.
    ``low_degC`` and ``high_degC`` [degC] are the window outside which the bench warns. ``light`` is the most
    that the routine allows; what the plate stands may be less (`firmware_py.craft.light_allowed`).
    """

    name: str
    kind: StepKind
    bath: str
    time_s: float = 0.0
    development: Development | None = None
    low_degC: float | None = None
    high_degC: float | None = None
    agitate_every_s: float | None = None
    clearing: Clearing | None = None
    changes: int = 1
    light: Light = "white"

    def __post_init__(self) -> None:
        """Refuse numbers with which nothing can be calculated."""
        _within("time_s", self.time_s, 0.0, LONGEST_S)
        _within("low_degC", self.low_degC, COLDEST_DEGC, HOTTEST_DEGC)
        _within("high_degC", self.high_degC, COLDEST_DEGC, HOTTEST_DEGC)
        _within("agitate_every_s", self.agitate_every_s, SHORTEST_S, LONGEST_S)
        _within("changes", self.changes, 1, 1000)


@dataclass(frozen=True, slots=True)
class Routine:
    """The ordered steps for a plate, the marks a person may make on the way, and where it comes from.

    ``appearance_mark`` and ``clearing_mark`` say which of the marks start the factor's clock and the
    fixer's; what they are called is the person's own. The foot makes those of ``foot_marks`` in their order
    (none named: all). ``sheet`` is what goes through it: a plate, or the paper of a print.
    """

    name: str
    title: str
    source: str
    steps: tuple[Step, ...]
    marks: tuple[str, ...] = (APPEARANCE_MARK, "shadow detail shows")
    appearance_mark: str = APPEARANCE_MARK
    clearing_mark: str = CLEARING_MARK
    sheet: SheetName = "plate"
    foot_marks: tuple[str, ...] = ()


def _within(name: str, value: float | None, low: float, high: float) -> None:
    if value is not None and not low <= value <= high:
        raise Refused(f"{value:g}", where=name, allowed=f"{low:g} to {high:g}")
