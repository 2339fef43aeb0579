"""A contact print of an invented plate: a strip, a base chosen from it, one good print."""

from __future__ import annotations

from firmware_py.craft.simulation import FilamentLamp
from firmware_py.craft.strips import Strip, strip_from
from firmware_py.facts.events import print as pe
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.run_record import RunRecord
from firmware_py.rehearsal.demo.glass import WANTED_RANGE
from firmware_py.rehearsal.demo.pen import Pen

FIRST_S, PATCHES = 2.0, 5


def print_of(pen: Pen, run: RunRecord) -> None:
    """Print a plate, and keep what was said of the print."""
    pen.wait(3600)
    made = _opened(pen, run)
    strip = _strip(pen, made)
    pen.wait(600)
    chosen = pen.random.choice((2, 3, 4))
    base_s = strip.times_s[chosen - 1]
    pen.follow(made.print_id, made, pe.PatchChosen(place=float(chosen), effective_s=base_s))
    pen.follow(made.print_id, made, pe.BaseSet(base_s=base_s, how="patch"))
    _lit(pen, made, base_s, ("base", 1))
    pen.follow(made.print_id, made, pe.SheetFinished(sheet=2))
    pen.follow(made.print_id, made, pe.VerdictGiven(verdict="good, as it lies"))
    pen.follow(made.print_id, made, pe.PrintEnded(why="done"))


def _opened(pen: Pen, run: RunRecord) -> PrintRecord:
    opened = pe.PrintOpened(
        negative=run.plate,
        paper="Grevsund contact",
        grade="2",
        lamp="60 W opal lamp",
        rehearsal=True,
        run_id=run.run_id,
        paper_log_range=WANTED_RANGE,
        distance_mm=600.0,
        lag_s=FilamentLamp().lag_s,
        lag_doubt_s=0.005,
        shortest_s=0.5,
    )
    return PrintRecord.begin(pen.first(opened))


def _strip(pen: Pen, made: PrintRecord) -> Strip:
    """Expose a test strip, one patch after the other."""
    strip = strip_from(FIRST_S, 1.0, PATCHES)
    planned = pe.StripPlanned(method="covering", step_stops=1.0, patches_s=strip.times_s)
    pen.follow(made.print_id, made, planned)
    for number, increment_s in enumerate(strip.increments_s, 1):
        _lit(pen, made, increment_s, ("strip", number))
    pen.follow(made.print_id, made, pe.SheetFinished(sheet=1))
    return strip


def _lit(pen: Pen, made: PrintRecord, effective_s: float, part: tuple[pe.Part, int]) -> None:
    exposure = f"{part[0]} {part[1]} of {made.print_id[-6:]}"
    on_s = effective_s + FilamentLamp().lag_s
    pen.wait(15)
    announced = pe.ExposureAnnounced(
        exposure=exposure,
        part=part[0],
        number=part[1],
        effective_s=effective_s,
        on_time_s=on_s,
        ceiling_s=on_s + 1.0,
    )
    pen.follow(made.print_id, made, announced)
    began_s = round(pen.now_s + 0.05, 3)
    pen.follow(made.print_id, made, pe.ExposureBegan(exposure=exposure, at_s=began_s))
    pen.wait(on_s + 0.1)
    ended = pe.ExposureEnded(exposure=exposure, on_s=began_s, off_s=round(began_s + on_s, 6), why="time")
    pen.follow(made.print_id, made, ended)
