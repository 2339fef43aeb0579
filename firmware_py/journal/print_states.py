"""The states of a print and what may happen in each: one table, from which the manual's diagram is drawn."""

from __future__ import annotations

from typing import Literal

from firmware_py.facts.events import print as pe
from firmware_py.facts.events import run as ev
from firmware_py.facts.events.event import Event

PrintState = Literal["dark", "announced", "lit", "warm", "uncovered", "ended"]

# (state, event) -> next state; what is not here can not happen. A lamp that is kept lit goes from announced
# to warm instead of lit. Events that change no state are below.
TRANSITIONS: dict[tuple[PrintState, type[Event]], PrintState] = {
    ("dark", pe.ExposureAnnounced): "announced",
    ("announced", pe.ExposureRefused): "dark",
    ("announced", pe.ExposureBegan): "lit",
    ("announced", pe.ExposureEnded): "dark",
    ("lit", pe.ExposureEnded): "dark",
    ("warm", pe.FrameUncovered): "uncovered",
    ("uncovered", pe.FrameCovered): "warm",
    ("warm", pe.ExposureEnded): "dark",
    ("dark", pe.PrintEnded): "ended",
}
_QUIET: frozenset[PrintState] = frozenset({"dark", "warm"})
_ALL: frozenset[PrintState] = frozenset({"dark", "announced", "lit", "warm", "uncovered", "ended"})
KEEPS_STATE: dict[type[Event], frozenset[PrintState]] = {
    pe.StripPlanned: _QUIET,
    pe.PatchChosen: _QUIET,
    pe.BaseSet: _QUIET,
    pe.BurnAdded: _QUIET,
    pe.BurnRemoved: _QUIET,
    pe.CopiesWanted: _QUIET,
    pe.PaperChanged: _QUIET,
    pe.DistanceChanged: _QUIET,
    pe.ProgramKept: _QUIET,
    pe.RestForgone: _QUIET,
    pe.SheetFinished: _QUIET,
    pe.SheetGivenUp: _QUIET,
    pe.LampModeChosen: frozenset({"dark"}),
    pe.SheetBathed: _ALL,
    pe.VerdictGiven: _ALL,
    ev.NoteWritten: _ALL,
}
# What the whole sheet gets can not change once a part of it has been exposed.
BETWEEN_SHEETS: frozenset[type[Event]] = frozenset(
    {
        pe.StripPlanned,
        pe.PatchChosen,
        pe.BaseSet,
        pe.BurnRemoved,
        pe.PaperChanged,
        pe.DistanceChanged,
        pe.LampModeChosen,
        pe.PrintEnded,
    }
)
# What the lamp may be lit for; under a lamp that is kept lit, the frame is uncovered for the parts instead.
PARTS_IN: dict[pe.LampMode, frozenset[pe.Part]] = {
    "timed": frozenset({"strip", "base", "burn"}),
    "bulb": frozenset({"bulb"}),
    "kept lit": frozenset({"lamp"}),
}
STATE_WORDS: dict[PrintState, str] = {
    "dark": "the lamp is dark",
    "announced": "the lamp is about to be lit",
    "lit": "an exposure goes on",
    "warm": "the lamp is kept lit",
    "uncovered": "the frame lies uncovered under the lamp",
    "ended": "the print is over",
}
DOING: dict[type[Event], str] = {
    pe.LampModeChosen: "choose how the lamp is used",
    pe.StripPlanned: "plan a strip",
    pe.PatchChosen: "choose a patch",
    pe.BaseSet: "set the base time",
    pe.BurnAdded: "add a burn",
    pe.BurnRemoved: "take a burn back",
    pe.CopiesWanted: "ask for copies",
    pe.PaperChanged: "change the paper",
    pe.DistanceChanged: "change the distance",
    pe.ProgramKept: "keep the program",
    pe.ExposureAnnounced: "light the lamp",
    pe.FrameUncovered: "uncover the frame",
    pe.FrameCovered: "cover the frame",
    pe.RestForgone: "leave the rest out",
    pe.SheetFinished: "finish the sheet",
    pe.SheetGivenUp: "give the sheet up",
    pe.SheetBathed: "bathe the sheet",
    pe.PrintEnded: "end the print",
}
