"""What a person can ask of the bench, from whatever screen, foot or script."""

from __future__ import annotations

from typing import Annotated

import msgspec

from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.facts.about_run import AboutRun
from firmware_py.facts.acts.act import Act
from firmware_py.facts.acts.bath import AnyUpkeepAct
from firmware_py.facts.acts.book import JudgePlate
from firmware_py.facts.acts.plate import AnyPlateAct
from firmware_py.facts.acts.print import AnyPrintAct
from firmware_py.facts.tunes import Tune

Words = Annotated[str, msgspec.Meta(min_length=1, max_length=200)]
Remark = Annotated[str, msgspec.Meta(min_length=1, max_length=2000)]
Degrees = Annotated[float, msgspec.Meta(ge=-5.0, le=60.0)]


class OpenRun(AboutRun, Act, frozen=True, kw_only=True, tag="open-run"):
    """Lay a plate ready for a routine in the first free lane, or in ``lane``.

    ``others`` lie in the same tray.
    A plate of the book may be named by its own name, or by the side of the holder it lies in.
    ``size`` ("English half plate"), ``emulsion`` and ``sensitivity`` are the usual ones where not said;
    ``baths`` are pairs of a step by its name and the bath for it.
    """

    plate: Words
    routine: Words
    size: Annotated[str, msgspec.Meta(max_length=60)] = ""
    emulsion: Annotated[str, msgspec.Meta(max_length=60)] = ""
    sensitivity: Sensitivity | None = None
    baths: tuple[tuple[Words, Words], ...] = ()
    others: Annotated[tuple[Words, ...], msgspec.Meta(max_length=11)] = ()
    lane: int | None = None


class CorrectPlate(Act, frozen=True, kw_only=True, tag="correct-plate"):
    """Correct the plate of a run that was opened with the wrong one; ``others`` None leaves them as they are.

    A plate of the book may be named by its own name, or by the side of the holder it is in. ``box`` is that
    of the plate where not said.
    """

    plate: Words
    others: Annotated[tuple[Words, ...], msgspec.Meta(max_length=11)] | None = None
    box: Annotated[str, msgspec.Meta(max_length=200)] = ""
    lane: int | None = None


class Proceed(Act, frozen=True, kw_only=True, tag="proceed"):
    """Do what comes next in the lane: put the plate in, or move it on when its step is due."""

    lane: int | None = None


class Mark(Act, frozen=True, kw_only=True, tag="mark"):
    """Say that something shows on the plate."""

    what: Words
    lane: int | None = None


class TakeBackMark(Act, frozen=True, kw_only=True, tag="take-back-mark"):
    """Say that the last mark of the step going on was a mistake."""

    lane: int | None = None


class ChangeWater(Act, frozen=True, kw_only=True, tag="change-water"):
    """Say that the wash got fresh water."""

    lane: int | None = None


class Pull(Act, frozen=True, kw_only=True, tag="pull"):
    """End the development now."""

    lane: int | None = None


class TakeBackPull(Act, frozen=True, kw_only=True, tag="take-back-pull"):
    """Put a plate back that was pulled by mistake: its development goes on. Refused 15 s after the pull."""

    lane: int | None = None


class CutShort(Act, frozen=True, kw_only=True, tag="cut-short"):
    """End a step that is not a development before its time."""

    lane: int | None = None


class Note(Act, frozen=True, kw_only=True, tag="note"):
    """Write a remark into the run's page."""

    text: Remark
    lane: int | None = None


class SayTemperature(Act, frozen=True, kw_only=True, tag="say-temperature"):
    """Give the bath's temperature as read by hand."""

    bath_degC: Degrees
    lane: int | None = None


class TrustProbe(Act, frozen=True, kw_only=True, tag="trust-probe"):
    """Set a probe aside that a glass thermometer contradicts, or trust it again."""

    probe: Words
    trusted: bool


class Abandon(Act, frozen=True, kw_only=True, tag="abandon"):
    """Give the run up; the log keeps it."""

    lane: int | None = None


class TakeUp(Act, frozen=True, kw_only=True, tag="take-up"):
    """Take an interrupted run up again; ``away_s`` [s] ± ``doubt_s`` [s] correct the likely time away."""

    lane: int | None = None
    away_s: Annotated[float, msgspec.Meta(ge=0.0, le=7 * 86400.0)] | None = None
    doubt_s: Annotated[float, msgspec.Meta(ge=0.0, le=86400.0)] | None = None


class Focus(Act, frozen=True, kw_only=True, tag="focus"):
    """Turn keys and foot to a lane."""

    lane: int


class SwitchSafelight(Act, frozen=True, kw_only=True, tag="switch-safelight"):
    """Switch the safelight."""

    on: bool


class PlaySound(Act, frozen=True, kw_only=True, tag="play-sound"):
    """Play a pattern of the sounder, to learn it by ear."""

    tune: Tune


class MoveFoot(Act, frozen=True, kw_only=True, tag="move-foot"):
    """Press (``down``) or release the foot switch from a keyboard; the bench stamps the time."""

    down: bool


AnyAct = (
    OpenRun
    | CorrectPlate
    | Proceed
    | Mark
    | TakeBackMark
    | ChangeWater
    | Pull
    | TakeBackPull
    | CutShort
    | Note
    | SayTemperature
    | TrustProbe
    | Abandon
    | TakeUp
    | Focus
    | SwitchSafelight
    | PlaySound
    | MoveFoot
    | AnyPrintAct
    | AnyUpkeepAct
    | JudgePlate
    | AnyPlateAct
)
