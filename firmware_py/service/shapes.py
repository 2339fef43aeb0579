"""The shapes that cross the socket, for those who draw the bench and act on it but do not run it."""

from __future__ import annotations

from firmware_py.bench.acts import (
    Abandon,
    AnyAct,
    CutShort,
    Focus,
    Mark,
    MoveFoot,
    Note,
    OpenRun,
    Proceed,
    Pull,
    SayTemperature,
    SwitchSafelight,
    TakeUp,
)
from firmware_py.bench.view import (
    BathTemperature,
    BenchView,
    CueView,
    LaneView,
    MarkView,
    NoticeView,
    ProbeView,
    RelayView,
    StepView,
)

__all__ = [
    "Abandon",
    "AnyAct",
    "BathTemperature",
    "BenchView",
    "CueView",
    "CutShort",
    "Focus",
    "LaneView",
    "Mark",
    "MarkView",
    "MoveFoot",
    "Note",
    "NoticeView",
    "OpenRun",
    "ProbeView",
    "Proceed",
    "Pull",
    "RelayView",
    "SayTemperature",
    "StepView",
    "SwitchSafelight",
    "TakeUp",
]
