"""What can happen to a run in which state: one table for the fold, the bench and the manual."""

from __future__ import annotations

from typing import Literal

from firmware_py.facts.events import plate as pe
from firmware_py.facts.events import run as ev
from firmware_py.facts.events import verdict as ve
from firmware_py.facts.events.event import Event

RunState = Literal["ready", "running", "due", "ended"]

# (state, event) -> next state; what is not here can not happen. Events that change no state are below.
TRANSITIONS: dict[tuple[RunState, type[Event]], RunState] = {
    ("ready", ev.StepStarted): "running",
    ("running", ev.StepFellDue): "due",
    ("running", ev.StepEnded): "ready",
    ("due", ev.StepEnded): "ready",
    ("ready", ev.RunEnded): "ended",
    ("running", ev.PullTakenBack): "running",
    ("due", ev.PullTakenBack): "running",
}
KEEPS_STATE: dict[type[Event], frozenset[RunState]] = {
    ev.TemperatureRead: frozenset({"ready", "running", "due"}),
    ev.MarkMade: frozenset({"running", "due"}),
    ev.MarkTakenBack: frozenset({"running", "due"}),
    ev.WaterChanged: frozenset({"running"}),
    ev.BathLeftWindow: frozenset({"running", "due"}),
    ev.RunWentOn: frozenset({"running", "due"}),
    ev.NoteWritten: frozenset({"ready", "running", "due", "ended"}),
    ev.RunResumed: frozenset({"ready", "running", "due"}),
    ev.PlateCorrected: frozenset({"ready", "running", "due", "ended"}),
    pe.PlateDescribed: frozenset({"ready", "running", "due"}),
    pe.BathNamed: frozenset({"ready", "running", "due"}),
    pe.LightFell: frozenset({"ready", "running", "due"}),
    ve.PlateJudged: frozenset({"ended"}),
}
# These speak of the step that goes on.
IN_STEP = ev.StepFellDue | ev.StepEnded | ev.WaterChanged | ev.BathLeftWindow
