"""What of one tray lets be seen: plain facts at one moment, from which any screen can be drawn.

Moments are on the bench's own clock [boot s], as in `firmware_py.facts.views.bench`.
"""

from __future__ import annotations

from typing import Literal

from firmware_py.craft.routine import Light, StepKind
from firmware_py.facts.about_run import AboutRun
from firmware_py.facts.views.fact import Fact
from firmware_py.facts.views.upkeep import PlateLightView, PlateView

LaneState = Literal["ready", "running", "due", "interrupted", "ended"]
EndingBy = Literal["time", "appearance", "ceiling"]


class BathTemperature(Fact, frozen=True, kw_only=True):
    """The bath's temperature [degC], how sure [K], when it was read [boot s], where it goes [K/min]."""

    bath_degC: float
    tolerance_K: float
    read_at_s: float
    source: Literal["probe", "hand", "trend", "trace", "assumed"]
    trend_K_per_min: float | None = None


class StepView(Fact, frozen=True, kw_only=True):
    """One step of the routine and whether it lies behind, is going on, or comes; what light it allows.

    ``bath_name`` is the bath that is named for it, of those on the bench; ``bath_choices`` are those that its
    words can mean, where they are several and none is named.
    """

    name: str
    kind: StepKind
    bath: str
    planned_s: float
    place: Literal["done", "here", "to come"]
    bath_name: str = ""
    bath_choices: tuple[str, ...] = ()
    light_allowed: Light = "safelight"


class MarkView(Fact, frozen=True, kw_only=True):
    """A mark made in this run, by seconds in its step and, in a developer, equivalent seconds."""

    what: str
    elapsed_s: float
    equivalent_s: float | None


class CueView(Fact, frozen=True, kw_only=True):
    """What the bench will say next in this lane, and when [boot s]."""

    words: str
    due_s: float


class EndingView(Fact, frozen=True, kw_only=True):
    """One thing that may end the development: by the coefficient (*time*), by the factor, or its ceiling.

    ``ends`` says whether it does, or is only told; ``equivalent_s`` [s] is where it lies, None for a ceiling
    of the clock; ``due_s`` [boot s] is when that will be if the bath drifts on.
    """

    by: EndingBy
    ends: bool
    due_s: float
    equivalent_s: float | None = None


class PrecedentView(Fact, frozen=True, kw_only=True):
    """Where earlier plates of the same box were pulled out of the same developer, in equivalent time [s]."""

    plates: int
    low_s: float
    median_s: float
    high_s: float


class AwayView(Fact, frozen=True, kw_only=True):
    """An interrupted run: the time away since its last entry, of ``last_utc``, at the view's own moment.

    ``likely_s`` ± ``doubt_s`` [s] by the wall clock, None where ``why_not`` says that it can not be
    believed; ``least_s`` [s] it was at the least.
    """

    last_utc: str
    least_s: float
    likely_s: float | None
    doubt_s: float
    why_not: str = ""


class WashView(Fact, frozen=True, kw_only=True):
    """A wash in several waters: which it lies in, of how many, and when the next is due [boot s]."""

    water: int
    waters: int
    change_due_s: float | None


class LaneView(AboutRun, Fact, frozen=True, kw_only=True):
    """One tray with its run.

    ``started_s`` and ``due_s`` [boot s] bound the step that is going on; ``due_s`` moves with the bath.
    In a developer ``equivalent_s`` is the equivalent time at ``as_of_s`` of the bench view and
    ``rate`` its growth (equivalent seconds a second); ``doubt_s`` is the uncertainty of ``due_s``.
    ``due_by`` says what ``due_s`` is by; it is None where nobody can know yet (a fixer before the plate is
    clear). ``tested`` [degC] is the range in which the developer's rate was tested, ``outside_K`` [K] how
    far the bath is outside it, below 0 in the cold. ``mark_keys`` has one key for each of ``mark_names``.
    ``window`` are the lowest and the highest temperature [degC] that the step wants. ``urgency`` is 0 for
    what calls loudest, and ``needs`` says what the tray needs of a person now. ``light_allowed`` is the most
    light that may fall on it, and ``is_open`` whether white light would spoil it: the bench's answers, for
    every screen. ``cleared_s`` is how long after its start [s] the fixer cleared the plate. ``back_until_s``
    [boot s] is until when a pull can be taken back.
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
    plates: tuple[str, ...] = ()
    light_allowed: Light = "safelight"
    is_open: bool = True
    ends: tuple[str, ...] = ()
    endings: tuple[EndingView, ...] = ()
    due_by: EndingBy | None = None
    factor: float | None = None
    window: tuple[float | None, float | None] = (None, None)
    is_outside: bool = False
    tested: tuple[float | None, float | None] = (None, None)
    outside_K: float = 0.0
    rock_every_s: float | None = None
    wash: WashView | None = None
    cleared_s: float | None = None
    look_due_s: float | None = None
    mark_keys: tuple[str, ...] = ()
    precedent: PrecedentView | None = None
    away: AwayView | None = None
    urgency: int = 0
    needs: str = ""
    times_longer: float = 1.0
    back_until_s: float | None = None
    plate_kind: PlateView | None = None
    light: PlateLightView | None = None
