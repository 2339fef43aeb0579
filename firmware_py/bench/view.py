"""What the bench lets be seen: plain facts at one moment, from which any screen can be drawn.

Moments are on the bench's own clock; a screen adds ``(its own seconds since it came) x speed``.
"""

from __future__ import annotations

from typing import Literal

import msgspec

from firmware_py.bench.print_view import LampView, PrintView
from firmware_py.bench.upkeep_view import BathView, FormulaView, HeaterView, PlateLightView, PlateView
from firmware_py.craft.plate_sizes import PLATE_SIZES

LaneState = Literal["ready", "running", "due", "interrupted", "ended"]


class View(msgspec.Struct, frozen=True, kw_only=True):
    """A fact on display."""


class BathTemperature(View, frozen=True, kw_only=True):
    """The bath's temperature [degC], how sure [K], when it was read [boot s], where it goes [K/min]."""

    bath_degC: float
    tolerance_K: float
    read_at_s: float
    source: Literal["probe", "hand", "trend", "trace", "assumed"]
    trend_K_per_min: float | None = None


class StepView(View, frozen=True, kw_only=True):
    """One step of the routine and whether it lies behind, is going on, or comes.

    ``bath_name`` is the bath that is named for it, of those on the bench.
    """

    name: str
    kind: str
    bath: str
    planned_s: float
    place: Literal["done", "here", "to come"]
    bath_name: str = ""


class MarkView(View, frozen=True, kw_only=True):
    """A mark made in this run, by seconds in its step and, in a developer, equivalent seconds."""

    what: str
    elapsed_s: float
    equivalent_s: float | None


class CueView(View, frozen=True, kw_only=True):
    """What the bench will say next in this lane, and when [boot s]."""

    words: str
    due_s: float
    urgent: bool = False


class LaneView(View, frozen=True, kw_only=True):
    """One tray with its run.

    ``started_s`` and ``due_s`` [boot s] bound the step that is going on; ``due_s`` moves with the bath.
    In a developer ``equivalent_s`` is the equivalent time at ``as_of_s`` of the bench view and
    ``rate`` its growth (equivalent seconds a second); ``doubt_s`` is the uncertainty of ``due_s``.
    """

    lane: int
    run_id: str
    plate: str
    routine: str
    state: LaneState
    steps: tuple[StepView, ...]
    step: int
    started_s: float | None = None
    due_s: float | None = None
    doubt_s: float | None = None
    equivalent_s: float | None = None
    target_s: float | None = None
    reference_degC: float | None = None
    rate: float | None = None
    bath: BathTemperature | None = None
    marks: tuple[MarkView, ...] = ()
    mark_names: tuple[str, ...] = ()
    next_cue: CueView | None = None
    foot_short: str = ""
    foot_long: str = ""
    advice: tuple[str, ...] = ()
    times_longer: float = 1.0
    plate_kind: PlateView | None = None
    light: PlateLightView | None = None


class RelayView(View, frozen=True, kw_only=True):
    """A relay by its name, whether it is on, and why."""

    name: str
    on: bool
    why: str


class ProbeView(View, frozen=True, kw_only=True):
    """A probe by its name, where it lies, and its last word."""

    name: str
    place: str
    bath_degC: float | None
    tolerance_K: float | None
    read_at_s: float
    trouble: str = ""


class NoticeView(View, frozen=True, kw_only=True):
    """Something the bench wants known: words, since when [boot s], and whether it is trouble."""

    words: str
    since_s: float
    trouble: bool = False


class BenchView(View, frozen=True, kw_only=True):
    """The whole bench at ``as_of_s`` [boot s], its time running ``speed`` times as fast as the real one.

    ``routines`` are those for plates. ``foot`` and ``foot_long`` say what a press and a long press do next;
    ``foot_serves`` says where.
    """

    as_of_s: float
    speed: float
    utc: str
    rehearsal: bool
    focus: int | None
    lanes: tuple[LaneView, ...]
    relays: tuple[RelayView, ...]
    probes: tuple[ProbeView, ...]
    notices: tuple[NoticeView, ...]
    routines: tuple[str, ...]
    paper_routines: tuple[str, ...] = ()
    lamp: LampView = LampView(name="printing lamp", on=False, mode="timed", state="dark")
    print: PrintView | None = None
    formulas: tuple[FormulaView, ...] = ()
    baths: tuple[BathView, ...] = ()
    heater: HeaterView | None = None
    plate_sizes: tuple[str, ...] = tuple(PLATE_SIZES)
    foot: str = ""
    foot_long: str = ""
    foot_serves: Literal["lamp", "trays"] = "trays"
