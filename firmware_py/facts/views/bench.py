"""What the bench lets be seen: plain facts at one moment, from which any screen can be drawn.

Moments are on the bench's own clock; a screen adds ``(its own seconds since it came) x speed``.
"""

from __future__ import annotations

from typing import Literal

from firmware_py.craft.routine import Light
from firmware_py.facts.tunes import Tune
from firmware_py.facts.views.fact import Fact
from firmware_py.facts.views.plates import PlatesView
from firmware_py.facts.views.print import LampView, PrintView
from firmware_py.facts.views.run import LaneView
from firmware_py.facts.views.upkeep import BathView, FormulaView, HeaterView

DeviceKind = Literal["switchboard", "relay", "probe", "foot switch", "sounder", "light sensor"]


class RelayView(Fact, frozen=True, kw_only=True):
    """A relay by its name, whether it is on, and why."""

    name: str
    on: bool
    why: str


class ProbeView(Fact, frozen=True, kw_only=True):
    """A probe by its name, where it lies, and its last word, corrected by ``offset_K`` [K].

    ``calibrated_utc`` and ``calibrated_by`` are empty before the first calibration; ``calibration_is_old``
    after a year.
    """

    name: str
    place: str
    bath_degC: float | None
    tolerance_K: float | None
    read_at_s: float
    trouble: str = ""
    offset_K: float = 0.0
    calibrated_utc: str = ""
    calibrated_by: str = ""
    calibration_is_old: bool = False


class PhraseView(Fact, frozen=True, kw_only=True):
    """A note that is chosen by its number."""

    words: str


class NoticeView(Fact, frozen=True, kw_only=True):
    """Something the bench wants known: words, since when [boot s], and whether it is trouble.

    ``cause`` and ``to_do`` say what is usual with its ``kind``.
    """

    words: str
    since_s: float
    trouble: bool = False
    kind: str = ""
    cause: str = ""
    to_do: str = ""


class DeviceView(Fact, frozen=True, kw_only=True):
    """A device: how it is connected, and how it is now where neither relay nor probe says more."""

    kind: DeviceKind
    name: str
    body: str
    state: str = ""
    trouble: bool = False


class SoundView(Fact, frozen=True, kw_only=True):
    """The last pattern that was played, and how many there were since the start."""

    number: int
    tune: Tune


class BenchView(Fact, frozen=True, kw_only=True):
    """The whole bench at ``as_of_s`` [boot s], its time running ``speed`` times as fast as the real one.

    ``routines`` are those for plates; ``in_the_dark`` those of them under which the usual plate bears no
    light. ``foot`` and ``foot_long`` say what a press and a long press do next; ``foot_serves`` says where,
    and ``long_press_s`` [s] parts the two. ``lanes`` stand in the order of their urgency; ``most_urgent`` is
    the first, if it needs a person now. ``light_allowed`` is the most that every plate bears: in the dark,
    screens are black and all goes by ear and foot. ``program`` is the controller's version.
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
    in_the_dark: tuple[str, ...] = ()
    lamp: LampView = LampView(name="printing lamp", on=False, mode="timed", state="dark")
    print: PrintView | None = None
    formulas: tuple[FormulaView, ...] = ()
    baths: tuple[BathView, ...] = ()
    heater: HeaterView | None = None
    plates: PlatesView = PlatesView()
    foot: str = ""
    foot_long: str = ""
    foot_serves: Literal["lamp", "trays"] = "trays"
    long_press_s: float = 0.8
    most_urgent: int | None = None
    light_allowed: Light = "white"
    phrases: tuple[PhraseView, ...] = ()
    devices: tuple[DeviceView, ...] = ()
    sounded: SoundView | None = None
    program: str = ""
