"""Invented entries of a box of plates, of holders, and of the lives of plates."""

from __future__ import annotations

from firmware_py.facts.events import box as be
from firmware_py.facts.events import life as le
from firmware_py.facts.events import run as ev
from tests.journal.making import numbered

BOX = be.BoxEntered(
    name="spring",
    size="English half plate",
    emulsion="home ripened",
    sensitivity="blue",
    speed_index=2.0,
    batch="coated 2 March",
    opened_utc="2026-03-14T09:00:00+00:00",
    rehearsal=True,
)
HOLDER = be.HolderEntered(name="3", sides=("A", "B"), size="English half plate", rehearsal=True)
EXPOSURE = le.ExposureNoted(
    taken="2026-03-14T12:10+00:00",
    where="Kvarnvik mole",
    latitude_deg=59.8,
    longitude_deg=5.2,
    subject="mole with two boats",
    scene="landscape",
    sky="hazy",
    lighting="side",
    stop="U.S. 64",
    f_number=32.0,
    time_s=2.0,
    extension="x1.2",
    extension_factor=1.2,
    filters="yellow 4",
    filter_factor=4.0,
    remark="a little wind",
)


def box_entries(of: str, *, finished: bool = False) -> list[ev.Entry]:
    """Return the entries of a box with everything that can happen to one."""
    happened: list[ev.AnyEvent] = [
        BOX,
        be.BoxDescribed(
            size="English half plate",
            emulsion="home ripened",
            sensitivity="blue",
            speed_index=2.5,
            batch="coated 2 March",
            opened_utc="2026-03-14T08:00:00+00:00",
        ),
        ev.NoteWritten(text="one edge is thin"),
    ]
    if finished:
        happened.append(be.BoxFinished(why="used up"))
    return at_minutes(of, happened)


def holder_entries(of: str, *, set_aside: bool = False) -> list[ev.Entry]:
    """Return the entries of a holder."""
    happened: list[ev.AnyEvent] = [HOLDER, ev.NoteWritten(text="slide of B is stiff")]
    if set_aside:
        happened.append(be.HolderSetAside(why="leaks light at B"))
    return at_minutes(of, happened)


def life_entries(of: str, *, box: str, holder: str, name: str = "spring/1") -> list[ev.Entry]:
    """Return the whole life of a plate that came to be filed."""
    return at_minutes(
        of,
        [
            le.PlateBoxed(name=name, box_id=box, box="spring", rehearsal=True),
            le.PlateLoaded(holder_id=holder, holder="3", side="A"),
            le.PlateUnloaded(why="rain"),
            le.PlateLoaded(holder_id=holder, holder="3", side="B"),
            le.PlateExposed(),
            le.ExposureTakenBack(),
            le.PlateExposed(),
            le.ExposureNoted(subject="mole", stop="f/16", f_number=16.0),
            EXPOSURE,
            le.PlateLaidOut(run_id="run 1", tray="tray 1"),
            le.PlateAdvanced(to="developing", run_id="run 1"),
            le.PlateAdvanced(to="fixed", run_id="run 1"),
            le.PlateAdvanced(to="washed", run_id="run 1"),
            le.PlateAdvanced(to="dry"),
            ev.NoteWritten(text="a pinhole in the sky"),
            le.PlateFiled(place="drawer 2"),
        ],
    )


def broken_entries(of: str, *, box: str) -> list[ev.Entry]:
    """Return the short life of a plate that broke in its box."""
    boxed = le.PlateBoxed(name="spring/2", box_id=box, box="spring", rehearsal=True)
    return at_minutes(of, [boxed, le.PlateBroken(how="fell on the floor")])


def mistaken_entries(of: str, *, box: str, holder: str) -> list[ev.Entry]:
    """Return the life of an exposed plate that was named for a run by mistake, and went back to its side."""
    return at_minutes(
        of,
        [
            le.PlateBoxed(name="spring/3", box_id=box, box="spring", rehearsal=True),
            le.PlateLoaded(holder_id=holder, holder="3", side="A"),
            le.PlateExposed(),
            le.PlateLaidOut(run_id="run 2", tray="tray 1"),
            le.PlateAdvanced(to="developing", run_id="run 2"),
            le.PlateMistaken(run_id="run 2"),
        ],
    )


def at_minutes(of: str, happened: list[ev.AnyEvent]) -> list[ev.Entry]:
    """Return events that happened a minute apart as the entries of ``of``."""
    return numbered(of, [(60.0 * n, event) for n, event in enumerate(happened)])
