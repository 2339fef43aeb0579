"""The facts of a print: a negative laid on paper under the lamp, from the first strip to the verdict.

The subject of all of them is the print's own id; as in `firmware_py.facts.events.run`, a class that has been
released is never changed.
"""

from __future__ import annotations

from typing import Literal

from firmware_py.craft.strips import Method
from firmware_py.facts import quantities as q
from firmware_py.facts.events.event import Event

Part = Literal["strip", "base", "burn", "bulb", "lamp"]
ExposureEnd = Literal["time", "stopped", "ceiling", "made safe", "switchboard lost", "bench stopped", "dose"]
BaseSource = Literal["person", "patch", "distance", "paper", "program"]
LampMode = Literal["timed", "bulb", "kept lit"]
PrintEnd = Literal["done", "another print"]


class PrintOpened(Event, frozen=True, kw_only=True, tag="PrintOpened"):
    """A negative was chosen to be printed on a paper.

    ``run_id`` is the run the plate came from, where it is known. ``grade`` is the maker's word;
    ``paper_log_range`` and ``paper_speed`` (of one scale with the other papers) are what was measured.
    ``distance_mm`` [mm] is from lamp to frame. Each start of the lamp loses ``lag_s`` ± ``lag_doubt_s`` [s],
    tried down to starts of ``shortest_s`` [s]; ``mains_Hz`` [Hz] is given for a zero-crossing switch;
    ``warm_up`` are (seconds since lit, light of 1 for full) of a lamp that is kept lit.
    """

    negative: str
    paper: str
    lamp: str
    rehearsal: bool
    run_id: str | None = None
    grade: str = ""
    paper_log_range: q.Density | None = None
    paper_speed: q.Index | None = None
    distance_mm: q.Millimetres | None = None
    lag_s: q.Seconds = 0.0
    lag_doubt_s: q.Seconds = 0.0
    shortest_s: q.Seconds = 0.0
    mains_Hz: q.Hertz | None = None
    warm_up: tuple[tuple[q.Seconds, q.Light], ...] = ()


class LampModeChosen(Event, frozen=True, kw_only=True, tag="LampModeChosen"):
    """The lamp was to be timed, worked by the foot alone (bulb), or kept lit while the person exposes."""

    mode: LampMode


# --- what is wanted ---


class StripPlanned(Event, frozen=True, kw_only=True, tag="StripPlanned"):
    """A test strip was planned: the seconds of full light [s] that each patch shall get."""

    method: Method
    step_stops: q.Stops
    patches_s: tuple[q.Seconds, ...]


class PatchChosen(Event, frozen=True, kw_only=True, tag="PatchChosen"):
    """A place on the strip was chosen (3.5 is half-way from patch 3 to 4), which got ``effective_s`` [s]."""

    place: q.Place
    effective_s: q.Seconds


class BaseSet(Event, frozen=True, kw_only=True, tag="BaseSet"):
    """The seconds of full light [s] that the whole sheet gets were set, and from what."""

    base_s: q.SomeSeconds
    how: BaseSource


class BurnAdded(Event, frozen=True, kw_only=True, tag="BurnAdded"):
    """A part of the sheet was to be darker by ``stops`` [stops]."""

    stops: q.Stops
    place: str = ""


class BurnRemoved(Event, frozen=True, kw_only=True, tag="BurnRemoved"):
    """The burn number ``burn`` (1 is the first) was taken back."""

    burn: q.Count


class CopiesWanted(Event, frozen=True, kw_only=True, tag="CopiesWanted"):
    """So many more sheets were wanted; None for as many as the foot asks for."""

    copies: q.Count | None


class PaperChanged(Event, frozen=True, kw_only=True, tag="PaperChanged"):
    """Another paper was taken; the fields are those of `PrintOpened`."""

    paper: str
    grade: str = ""
    paper_log_range: q.Density | None = None
    paper_speed: q.Index | None = None


class DistanceChanged(Event, frozen=True, kw_only=True, tag="DistanceChanged"):
    """The lamp was moved to ``distance_mm`` [mm] from the frame."""

    distance_mm: q.Millimetres


class ProgramKept(Event, frozen=True, kw_only=True, tag="ProgramKept"):
    """The base [s] and the burns [stops] of a finished sheet were kept with the negative."""

    base_s: q.SomeSeconds
    burns: tuple[tuple[q.Stops, str], ...]


# --- the lamp ---


class ExposureAnnounced(Event, frozen=True, kw_only=True, tag="ExposureAnnounced"):
    """The lamp was about to be lit for a part of the sheet; committed before it is.

    ``number`` counts the strip's exposures and the burns from 1. ``rest`` says that it completes one that
    was broken off. ``effective_s`` [s] of full light are wanted, for which the lamp is to be on for
    ``on_time_s`` [s]; both are None where only a foot ends it. ``ceiling_s`` [s] ends it in any case.
    With ``by_dose`` a light sensor ends it, and the on-time is what it should need.
    """

    exposure: str
    part: Part
    ceiling_s: q.Seconds
    number: q.Count = 1
    rest: bool = False
    effective_s: q.Seconds | None = None
    on_time_s: q.Seconds | None = None
    by_dose: bool = False


class ExposureRefused(Event, frozen=True, kw_only=True, tag="ExposureRefused"):
    """The announced exposure did not take place: the lamp was never lit."""

    exposure: str
    why: str


class ExposureBegan(Event, frozen=True, kw_only=True, tag="ExposureBegan"):
    """The lamp was lit at ``at_s`` [boot s], as measured at the pin."""

    exposure: str
    at_s: q.SignedSeconds


class ExposureEnded(Event, frozen=True, kw_only=True, tag="ExposureEnded"):
    """The lamp was on from ``on_s`` to ``off_s`` [boot s of the start it was announced on].

    With ``doubt_s`` 0 both were measured at the pin; otherwise ``off_s`` is an estimate good to
    ± ``doubt_s`` [s]. ``stopped_by`` says who or what asked for an early end. ``dose_s`` [s of full light] is
    what a light sensor measured, where one did: it counts, and not the time.
    """

    exposure: str
    on_s: q.SignedSeconds
    off_s: q.SignedSeconds
    why: ExposureEnd
    doubt_s: q.Seconds = 0.0
    stopped_by: str = ""
    dose_s: q.SignedSeconds | None = None


class FrameUncovered(Event, frozen=True, kw_only=True, tag="FrameUncovered"):
    """Under a lamp that is kept lit, the person began to expose at ``at_s`` [boot s].

    The other fields are those of `ExposureAnnounced`.
    """

    exposure: str
    part: Part
    at_s: q.SignedSeconds
    number: q.Count = 1
    rest: bool = False
    effective_s: q.Seconds | None = None


class FrameCovered(Event, frozen=True, kw_only=True, tag="FrameCovered"):
    """Under a lamp that is kept lit, the person ended the exposure (or the lamp did) at ``at_s`` [boot s]."""

    exposure: str
    at_s: q.SignedSeconds
    why: Literal["covered", "lamp out"] = "covered"


class RestForgone(Event, frozen=True, kw_only=True, tag="RestForgone"):
    """What is wanting of a broken-off part was left out: it is good as it is."""

    part: Part
    number: q.Count


# --- sheets ---


class SheetFinished(Event, frozen=True, kw_only=True, tag="SheetFinished"):
    """The sheet number ``sheet`` (strips count too, from 1) got all it shall get under the lamp."""

    sheet: q.Count


class SheetGivenUp(Event, frozen=True, kw_only=True, tag="SheetGivenUp"):
    """The sheet number ``sheet`` was given up."""

    sheet: q.Count


class SheetBathed(Event, frozen=True, kw_only=True, tag="SheetBathed"):
    """The sheet number ``sheet`` went into its baths, as the run ``run_id``."""

    sheet: q.Count
    run_id: str


class VerdictGiven(Event, frozen=True, kw_only=True, tag="VerdictGiven"):
    """The person judged what came of it."""

    verdict: str


class PrintEnded(Event, frozen=True, kw_only=True, tag="PrintEnded"):
    """The work at the lamp on this negative is over."""

    why: PrintEnd


AnyPrintEvent = (
    PrintOpened
    | LampModeChosen
    | StripPlanned
    | PatchChosen
    | BaseSet
    | BurnAdded
    | BurnRemoved
    | CopiesWanted
    | PaperChanged
    | DistanceChanged
    | ProgramKept
    | ExposureAnnounced
    | ExposureRefused
    | ExposureBegan
    | ExposureEnded
    | FrameUncovered
    | FrameCovered
    | RestForgone
    | SheetFinished
    | SheetGivenUp
    | SheetBathed
    | VerdictGiven
    | PrintEnded
)
