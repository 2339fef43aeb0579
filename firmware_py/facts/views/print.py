"""What the lamp and the print under it let be seen: plain facts, from which the page is drawn.

Everywhere ``wanted_s``, ``given_s`` and ``base_s`` are seconds of full light [s]; moments are on the bench's
own clock [boot s], like those of `firmware_py.facts.views.bench`.
"""

from __future__ import annotations

from typing import Literal

from firmware_py.facts.events.print import LampMode
from firmware_py.facts.views.fact import Fact


class LampView(Fact, frozen=True, kw_only=True):
    """The lamp: what it is lit for, until when, and what the foot or key does next.

    ``state`` is dark, announced (the book has it, the lamp comes on), lit, warm (kept lit, frame covered) or
    uncovered. ``doing`` names what goes on since ``since_s``; it ends by itself at ``ends_s`` and at the
    latest at ``off_by_s``. At ``as_of_s`` of the bench view the part has got ``given_s`` of ``wanted_s``,
    and ``given_rate`` more a second. ``next`` names what comes next, ``next_s`` its full light and
    ``next_on_s`` the lamp's time for it. ``blocked`` says why nothing can be lit now.
    """

    name: str
    on: bool
    mode: LampMode
    state: Literal["dark", "announced", "lit", "warm", "uncovered"]
    is_stopping: bool = False
    doing: str = ""
    since_s: float | None = None
    ends_s: float | None = None
    off_by_s: float | None = None
    lit_since_s: float | None = None
    wanted_s: float | None = None
    given_s: float = 0.0
    given_rate: float = 0.0
    next: str = ""
    next_s: float | None = None
    next_on_s: float | None = None
    blocked: str = ""
    foot_press: str = ""
    foot_long: str = ""
    lag_s: float = 0.0
    lag_doubt_s: float = 0.0
    shortest_s: float = 0.0
    mains_Hz: float | None = None
    longest_on_s: float = 0.0
    safelight: Literal["unchanged", "off", "on"] = "unchanged"


class PatchView(Fact, frozen=True, kw_only=True):
    """A patch of the strip: what it shall get, what it got, and whether it is the one chosen."""

    patch: int
    wanted_s: float
    given_s: float | None
    chosen: bool = False


class StripView(Fact, frozen=True, kw_only=True):
    """The last strip: ``exposed`` of its exposures are done.

    ``advice`` says what to cover or open now; while one of them goes on, ``advice_after`` what comes then.
    """

    method: Literal["covering", "uncovering"]
    step_stops: float
    patches: tuple[PatchView, ...]
    exposed: int
    finished: bool
    advice: str = ""
    advice_after: str = ""


class BurnView(Fact, frozen=True, kw_only=True):
    """A burn: stops, place, the extra light with the present base, and whether this sheet has got it."""

    burn: int
    stops: float
    place: str
    extra_s: float | None
    given: bool


class SheetView(Fact, frozen=True, kw_only=True):
    """The sheet under the lamp, and what it shall get in all, base and burns together.

    ``owed`` names a part that was broken off, and ``owed_s`` what it wants.
    """

    sheet: int
    kind: Literal["strip", "print", "bulb"]
    given_s: float
    wanted_s: float | None
    half_exposed: bool
    owed: str = ""
    owed_s: float | None = None


class FinishedView(Fact, frozen=True, kw_only=True):
    """A finished sheet; ``run_id`` is its way through the baths, None while it waits for them."""

    sheet: int
    kind: Literal["strip", "print", "bulb"]
    measured_s: float
    effective_s: float
    run_id: str | None


class ProgramView(Fact, frozen=True, kw_only=True):
    """What was kept with this negative; ``base_now_s`` is its base for the present paper and distance."""

    base_s: float
    base_now_s: float
    burns: tuple[tuple[float, str], ...]
    paper: str
    distance_mm: float | None
    kept_utc: str


class PrintView(Fact, frozen=True, kw_only=True):
    """The print that is open, or the last one."""

    print_id: str
    negative: str
    run_id: str | None
    paper: str
    grade: str
    paper_log_range: float | None
    paper_speed: float | None
    distance_mm: float | None
    is_open: bool
    base_s: float | None
    base_from: Literal["person", "patch", "distance", "paper", "program"] | None
    strip: StripView | None
    chosen_patch: float | None
    burns: tuple[BurnView, ...]
    copies_left: int | None
    prints_finished: int
    sheet: SheetView | None
    finished: tuple[FinishedView, ...]
    program: ProgramView | None
    interrupted: str = ""
    verdicts: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


class FootRowView(Fact, frozen=True, kw_only=True):
    """A row of the foot's table at the lamp: what putting down, a short and a long press, and lifting do."""

    situation: str
    down: str
    short: str
    long: str
    lift: str
