"""An invented print for the tests of the journal: every kind of event at the lamp, in a possible order."""

from __future__ import annotations

from firmware_py.craft.strips import strip_from
from firmware_py.facts.events import print as pe
from firmware_py.facts.events.run import AnyEvent, Entry, NoteWritten
from tests.journal.making import numbered

STRIP = strip_from(2.0, 1.0, 3)
LAG_S = 0.05


def lit(exposure: str, at_s: float, lasted_s: float, part: pe.Part, number: int = 1) -> list[AnyEvent]:
    """Return an exposure that went to its end, from its announcement on."""
    return [
        pe.ExposureAnnounced(
            exposure=exposure,
            part=part,
            number=number,
            effective_s=lasted_s - LAG_S,
            on_time_s=lasted_s,
            ceiling_s=lasted_s + 1.0,
        ),
        pe.ExposureBegan(exposure=exposure, at_s=1000.0 + at_s),
        pe.ExposureEnded(exposure=exposure, on_s=1000.0 + at_s, off_s=1000.0 + at_s + lasted_s, why="time"),
    ]


def strip_events() -> list[AnyEvent]:
    """Return a strip that was planned, exposed and chosen from."""
    events: list[AnyEvent] = [
        pe.StripPlanned(method="covering", step_stops=1.0, patches_s=STRIP.times_s),
    ]
    for number, increment_s in enumerate(STRIP.increments_s, 1):
        events += lit(f"strip {number}", 10.0 * number, increment_s + LAG_S, "strip", number)
    return [
        *events,
        pe.SheetFinished(sheet=1),
        pe.SheetBathed(sheet=1, run_id="0192-run"),
        pe.PatchChosen(place=2.0, effective_s=4.0),
        pe.BaseSet(base_s=4.0, how="patch"),
    ]


def broken_off() -> list[AnyEvent]:
    """Return a base that was stopped half-way and completed, its burn left out in part."""
    return [
        pe.ExposureAnnounced(
            exposure="base", part="base", effective_s=4.0, on_time_s=4.0 + LAG_S, ceiling_s=5.0
        ),
        pe.ExposureBegan(exposure="base", at_s=1100.0),
        pe.ExposureEnded(exposure="base", on_s=1100.0, off_s=1102.0, why="stopped", stopped_by="foot"),
        pe.ExposureAnnounced(
            exposure="rest", part="base", rest=True, effective_s=2.05, on_time_s=2.1, ceiling_s=3.1
        ),
        pe.ExposureBegan(exposure="rest", at_s=1110.0),
        pe.ExposureEnded(exposure="rest", on_s=1110.0, off_s=1112.1, why="time"),
        pe.ExposureAnnounced(
            exposure="burn", part="burn", effective_s=4.0, on_time_s=4.0 + LAG_S, ceiling_s=5.0
        ),
        pe.ExposureEnded(exposure="burn", on_s=1120.0, off_s=1121.5, why="switchboard lost", doubt_s=0.4),
        pe.RestForgone(part="burn", number=1),
        pe.SheetFinished(sheet=2),
        pe.ProgramKept(base_s=4.0, burns=((1.0, "sky"),)),
    ]


def kept_lit() -> list[AnyEvent]:
    """Return an exposure made by hand under a lamp that is kept lit."""
    return [
        pe.LampModeChosen(mode="kept lit"),
        pe.ExposureAnnounced(exposure="lamp", part="lamp", ceiling_s=3600.0),
        pe.ExposureBegan(exposure="lamp", at_s=1200.0),
        pe.FrameUncovered(exposure="hand", part="base", effective_s=8.0, at_s=1210.0),
        pe.FrameCovered(exposure="hand", at_s=1213.0),
        pe.SheetGivenUp(sheet=3),
        pe.ExposureEnded(exposure="lamp", on_s=1200.0, off_s=1250.0, why="stopped", stopped_by="key"),
    ]


def print_events() -> list[AnyEvent]:
    """Return a whole print with every kind of event."""
    return [
        pe.PrintOpened(
            negative="half plate 7",
            run_id="0192-plate",
            paper="contact paper",
            grade="2",
            paper_log_range=1.05,
            paper_speed=100.0,
            lamp="opal lamp",
            lag_s=LAG_S,
            lag_doubt_s=0.01,
            distance_mm=600.0,
            warm_up=((0.0, 0.5), (100.0, 1.0)),
            rehearsal=True,
        ),
        *strip_events(),
        pe.BurnAdded(stops=0.5),
        pe.BurnRemoved(burn=1),
        pe.BurnAdded(stops=1.0, place="sky"),
        pe.CopiesWanted(copies=2),
        pe.ExposureAnnounced(exposure="none", part="base", effective_s=4.0, on_time_s=4.05, ceiling_s=5.0),
        pe.ExposureRefused(exposure="none", why="the disk was full"),
        *broken_off(),
        pe.DistanceChanged(distance_mm=1200.0),
        pe.PaperChanged(paper="slow paper", grade="3", paper_speed=50.0),
        *kept_lit(),
        NoteWritten(text="the frame pinches at one corner"),
        pe.PrintEnded(why="done"),
        pe.VerdictGiven(verdict="sky still thin"),
    ]


def print_entries(of: str) -> list[Entry]:
    """Return the entries of one whole print, a second apart."""
    return numbered(of, [(float(n), event) for n, event in enumerate(print_events())])
