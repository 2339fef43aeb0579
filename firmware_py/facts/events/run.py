"""The facts the journal can hold, each in the past tense, each with the units of its numbers in its names.

An event class is never changed once it has been released: a new meaning is a new class, or a new field
with a default and a raised ``SCHEMA``.
"""

from __future__ import annotations

from typing import Literal

import msgspec

from firmware_py.craft.routine import Routine
from firmware_py.facts import quantities as q
from firmware_py.facts.about_run import AboutRun
from firmware_py.facts.events.bath import AnyBathEvent
from firmware_py.facts.events.box import AnyBoxEvent
from firmware_py.facts.events.event import Event
from firmware_py.facts.events.heat import AnyHeatEvent, AnyProbeEvent
from firmware_py.facts.events.life import AnyLifeEvent
from firmware_py.facts.events.plate import AnyPlateEvent
from firmware_py.facts.events.print import AnyPrintEvent
from firmware_py.facts.events.verdict import AnyVerdictEvent

TemperatureSource = Literal["probe", "hand", "trend", "trace", "assumed"]
StepEnd = Literal["time", "appearance", "ceiling", "pulled", "moved on", "cut short", "abandoned"]
DueBy = Literal["time", "ceiling"]
RunEnd = Literal["time", "appearance", "ceiling", "pulled", "abandoned"]


# --- a session of the bench: the subject is the session's own id ---


class BenchStarted(Event, frozen=True, kw_only=True, tag="BenchStarted"):
    """The controller came up; every relay was in its safe state."""

    program: str
    rehearsal: bool


class BenchStopped(Event, frozen=True, kw_only=True, tag="BenchStopped"):
    """The controller went down in good order."""

    why: str


class RelaySwitched(Event, frozen=True, kw_only=True, tag="RelaySwitched"):
    """A relay was switched for good, not for an exposure."""

    relay: str
    on: bool
    why: str


class ProbeFellSilent(Event, frozen=True, kw_only=True, tag="ProbeFellSilent"):
    """A probe stopped giving readings that can be believed."""

    probe: str
    why: str


class ProbeSpokeAgain(Event, frozen=True, kw_only=True, tag="ProbeSpokeAgain"):
    """A silent probe gave a reading again."""

    probe: str
    bath_degC: q.Degrees


class ProbeSetAside(Event, frozen=True, kw_only=True, tag="ProbeSetAside"):
    """A person did not trust a probe any more: what it says does not count."""

    probe: str


class ProbeTakenBack(Event, frozen=True, kw_only=True, tag="ProbeTakenBack"):
    """A person trusted a probe again."""

    probe: str


class FaultSeen(Event, frozen=True, kw_only=True, tag="FaultSeen"):
    """Something went wrong with the bench itself."""

    fault: str
    detail: str


# --- a run: the subject is the run's id ---


class RunOpened(AboutRun, Event, frozen=True, kw_only=True, tag="RunOpened"):
    """A plate was chosen to go through a routine; the routine is kept whole, so the run can be replayed.

    ``others`` are the plates that lie in the same tray with it.
    """

    plate: str
    tray: str
    routine: Routine
    rehearsal: bool
    others: tuple[str, ...] = ()


class PlateCorrected(Event, frozen=True, kw_only=True, tag="PlateCorrected"):
    """The run was opened with the wrong plate: ``plate`` and ``others`` are in the tray, from ``box``.

    As many plates as the run was opened with; what was written of one counts for the one in its place.
    """

    plate: str
    others: tuple[str, ...] = ()
    box: str = ""


class StepStarted(Event, frozen=True, kw_only=True, tag="StepStarted"):
    """The plate went into the bath of step number ``step`` (0 is the first)."""

    step: q.Count
    bath_degC: q.Degrees | None = None
    tolerance_K: q.Tolerance | None = None
    source: TemperatureSource | None = None


class TemperatureRead(Event, frozen=True, kw_only=True, tag="TemperatureRead"):
    """The bath had this temperature, by this source."""

    bath_degC: q.Degrees
    tolerance_K: q.Tolerance
    source: TemperatureSource


class MarkMade(Event, frozen=True, kw_only=True, tag="MarkMade"):
    """The person saw something; ``bath_degC`` is the temperature believed at that moment."""

    what: str
    bath_degC: q.Degrees | None = None


class MarkTakenBack(Event, frozen=True, kw_only=True, tag="MarkTakenBack"):
    """The last mark called ``what`` was a mistake: it does not count."""

    what: str


class NoteWritten(Event, frozen=True, kw_only=True, tag="NoteWritten"):
    """The person wrote a remark."""

    text: str


class WaterChanged(Event, frozen=True, kw_only=True, tag="WaterChanged"):
    """The plate got fresh water in the wash of step ``step``."""

    step: q.Count


class BathLeftWindow(Event, frozen=True, kw_only=True, tag="BathLeftWindow"):
    """The bath of step ``step`` was found colder or warmer than the routine wants it."""

    step: q.Count
    bath_degC: q.Degrees
    low_degC: q.Degrees | None
    high_degC: q.Degrees | None


class RunWentOn(Event, frozen=True, kw_only=True, tag="RunWentOn"):
    """Nothing happened, but the bench still watched: so the moment of a later power cut is known."""


class StepFellDue(Event, frozen=True, kw_only=True, tag="StepFellDue"):
    """The time of the step was up, or its ceiling reached; the plate still lies in its bath.

    ``over_s`` [s] is how long ago that was, where nobody watched at the time.
    """

    step: q.Count
    why: DueBy = "time"
    over_s: q.Seconds = 0.0


class StepEnded(Event, frozen=True, kw_only=True, tag="StepEnded"):
    """The plate left the bath of step ``step``; ``bath_degC`` is the temperature believed at that moment."""

    step: q.Count
    why: StepEnd
    bath_degC: q.Degrees | None = None


class PullTakenBack(Event, frozen=True, kw_only=True, tag="PullTakenBack"):
    """The plate that was pulled out of the developer of step ``step`` went back into it: a mistake.

    ``out_s`` [s] is how long ago the pull was, for the reader; ``bath_degC`` ± ``tolerance_K`` is the
    developer's temperature believed at that moment. The step goes on as if it had not ended: the seconds
    between count at the rate of the bath, and are a doubt of the step.
    """

    step: int
    out_s: float
    bath_degC: float | None = None
    tolerance_K: float = 0.0
    source: TemperatureSource = "assumed"


class RunEnded(Event, frozen=True, kw_only=True, tag="RunEnded"):
    """The routine is over; ``ended`` says how the development ended."""

    ended: RunEnd


class RunResumed(Event, frozen=True, kw_only=True, tag="RunResumed"):
    """An open run was taken up again after the controller, or the whole machine, had stopped.

    ``away_s`` [s] ± ``doubt_s`` [s] is the time taken to have passed since the run's last event:
    exact on the same machine start, otherwise by the wall clock or as the person corrected it (``how``).
    """

    away_s: q.Seconds
    doubt_s: q.Seconds
    how: Literal["boot clock", "wall clock", "person"]


AnyEvent = (
    BenchStarted
    | BenchStopped
    | RelaySwitched
    | ProbeFellSilent
    | ProbeSpokeAgain
    | ProbeSetAside
    | ProbeTakenBack
    | FaultSeen
    | RunOpened
    | PlateCorrected
    | StepStarted
    | TemperatureRead
    | MarkMade
    | MarkTakenBack
    | NoteWritten
    | WaterChanged
    | BathLeftWindow
    | RunWentOn
    | StepFellDue
    | StepEnded
    | PullTakenBack
    | RunEnded
    | RunResumed
    | AnyPrintEvent
    | AnyPlateEvent
    | AnyBathEvent
    | AnyBoxEvent
    | AnyLifeEvent
    | AnyHeatEvent
    | AnyProbeEvent
    | AnyVerdictEvent
)


class Entry(msgspec.Struct, frozen=True, kw_only=True):
    """An event with its place in the book.

    ``subject`` is the UUIDv7 of the run, print, bath, probe, box, holder, plate or session it belongs to,
    ``number`` counts from 1 within the subject without a gap. ``boot_s`` [s] is the boot clock on the
    machine start ``boot_id``; ``utc`` is the wall clock (ISO 8601), which may be wrong.
    """

    subject: str
    number: int
    boot_id: str
    boot_s: float
    utc: str
    event: AnyEvent
