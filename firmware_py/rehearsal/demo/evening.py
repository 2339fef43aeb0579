"""A plate's way through the trays of an evening: a tray that cools, a probe, an image that grows."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import count
from typing import NamedTuple

from firmware_py.craft.fixing import TIMES_CLEARING
from firmware_py.craft.plate_sizes import read_plate_size
from firmware_py.craft.routine import Routine, Step
from firmware_py.craft.simulation import CoolingTray, GrowingImage, QuantisedProbe
from firmware_py.facts.events import bath as be
from firmware_py.facts.events import plate as pe
from firmware_py.facts.events import run as ev
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.outcome import planned_s
from firmware_py.journal.run_record import RunRecord
from firmware_py.rehearsal.demo.glass import image_of
from firmware_py.rehearsal.demo.pen import Pen
from firmware_py.rehearsal.demo.season import SIZE, DemoBox

READ_EVERY_S = 10.0
TOLERANCE_K = 0.5
SHADOW_MARK = "shadow detail shows"
AREA_CM2 = read_plate_size(SIZE, where="demo book").area_cm2


@dataclass(frozen=True, slots=True)
class Trays:
    """The baths of the evening, the room, and how the probe of the developer reads."""

    developer: BathRecord
    fixer: BathRecord
    room_degC: float
    probe: QuantisedProbe


class Developing(NamedTuple):
    """A plate in its developer: the step, the image that grows, and when it is pulled (equivalent time)."""

    step: int
    image: GrowingImage
    until_s: float


def developed(
    pen: Pen, box: DemoBox, plate: str, routine: Routine, trays: Trays, *, until_s: float
) -> RunRecord:
    """Take a plate through a routine; it leaves the developer at ``until_s`` [s] of equivalent time.

    That is for a fresh bath: a used one takes its times longer.
    """
    opened = ev.RunOpened(
        plate=plate,
        tray="tray 1",
        routine=routine,
        rehearsal=True,
        box=box.name,
        dark=box.sensitivity == "panchromatic",
    )
    run = RunRecord.begin(pen.first(opened))
    _describe(pen, run, box, trays)
    pen.wait(20 + 40 * pen.random.random())
    for number, step in enumerate(routine.steps):
        if step.development is not None:
            _develop(pen, run, Developing(number, image_of(box), until_s), trays)
        else:
            _bathe(pen, run, number, step, trays)
        pen.wait(5 + 10 * pen.random.random())
    pen.follow(run.run_id, run, ev.RunEnded(ended="pulled"))
    return run


def _describe(pen: Pen, run: RunRecord, box: DemoBox, trays: Trays) -> None:
    kind = pe.PlateDescribed(size=SIZE, area_cm2=AREA_CM2, emulsion=box.emulsion, sensitivity=box.sensitivity)
    pen.follow(run.run_id, run, kind)
    for number, step in enumerate(run.routine.steps):
        bath = trays.developer if step.kind == "develop" else trays.fixer if _is_fixer(step) else None
        if bath is not None:
            longer = min(2.0, bath.times_longer()) if step.kind == "develop" else 1.0
            named = pe.BathNamed(step=number, bath_id=bath.subject, bath=bath.name, times_longer=longer)
            pen.follow(run.run_id, run, named)


def _is_fixer(step: Step) -> bool:
    return step.kind == "fix" and "fresh" not in step.bath


def _use(pen: Pen, run: RunRecord, number: int, bath: BathRecord) -> None:
    used = be.BathUsed(run_id=run.run_id, step=number, area_cm2=AREA_CM2, plate=run.plate)
    pen.follow(bath.subject, bath, used)


def _develop(pen: Pen, run: RunRecord, developing: Developing, trays: Trays) -> None:
    number, image, until_s = developing
    longer = run.times_longer(number)
    development = run.routine.steps[number].development
    assert development is not None
    start_degC = development.reference_degC + pen.random.uniform(-0.6, 1.4)
    tray = CoolingTray(start_degC, trays.room_degC, 35.0)
    silent = pen.random.random() < 0.08  # now and then the probe says nothing for a while
    started_s = pen.now_s

    def bath_degC() -> float:
        return trays.probe.reading(tray.bath_degC(pen.now_s - started_s), int(pen.now_s))

    event = ev.StepStarted(step=number, bath_degC=bath_degC(), tolerance_K=TOLERANCE_K, source="probe")
    pen.follow(run.run_id, run, event)
    _use(pen, run, number, trays.developer)
    signs = {run.routine.appearance_mark: image.appears_s, SHADOW_MARK: image.shadow_detail_s}
    for reading in count(1):
        if (here := run.here) is None or here.equivalent_s >= until_s * longer:
            break
        pen.wait(READ_EVERY_S)
        read_degC = _read(pen, run, bath_degC(), guessed=silent and 12 <= reading < 20)
        for mark in [mark for mark, at_s in signs.items() if here.equivalent_s >= at_s * longer]:
            del signs[mark]
            pen.follow(run.run_id, run, ev.MarkMade(what=mark, bath_degC=read_degC))
    pen.wait(2.0)
    pen.follow(run.run_id, run, ev.StepEnded(step=number, why="pulled", bath_degC=bath_degC()))


def _read(pen: Pen, run: RunRecord, bath_degC: float, *, guessed: bool) -> float:
    """Write a reading of the probe down, or what its trend makes of it while it is silent; return it."""
    reading = ev.TemperatureRead(
        bath_degC=bath_degC,
        tolerance_K=3 * TOLERANCE_K if guessed else TOLERANCE_K,
        source="trend" if guessed else "probe",
    )
    pen.follow(run.run_id, run, reading)
    return bath_degC


def _bathe(pen: Pen, run: RunRecord, number: int, step: Step, trays: Trays) -> None:
    """Let a plate lie in any other bath as long as is meant; a fixer shows when it is clear."""
    pen.follow(run.run_id, run, ev.StepStarted(step=number))
    lasts_s = planned_s(step)
    if _is_fixer(step):
        _use(pen, run, number, trays.fixer)
        slower = (1 + 0.035 * trays.fixer.runs) * pen.random.uniform(0.95, 1.05)
        clearing_s = float(round(90 * slower))
        pen.wait(clearing_s)
        pen.follow(run.run_id, run, ev.MarkMade(what=run.routine.clearing_mark))
        fresh = trays.fixer.fresh_clearing_s is None
        seen = be.BathClearingSeen(clearing_s=clearing_s, fresh=fresh, run_id=run.run_id)
        pen.follow(trays.fixer.subject, trays.fixer, seen)
        lasts_s = max(lasts_s, TIMES_CLEARING * clearing_s if step.clearing else 0.0) - clearing_s
    for _ in range(step.changes - 1):
        pen.wait(step.time_s)
        pen.follow(run.run_id, run, ev.WaterChanged(step=number))
        lasts_s -= step.time_s
    pen.wait(lasts_s)
    pen.follow(run.run_id, run, ev.StepFellDue(step=number))
    pen.wait(2 + 6 * pen.random.random())
    pen.follow(run.run_id, run, ev.StepEnded(step=number, why="moved on"))
