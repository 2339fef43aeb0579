"""The season from its first box to its last outing: an evening at a time, each plate learned from."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import NamedTuple

from firmware_py import __version__
from firmware_py.bench.routines import shipped_routines
from firmware_py.craft.given import Given, against_daylight
from firmware_py.craft.next_plate import Tried, next_plate
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Routine
from firmware_py.craft.simulation import QuantisedProbe
from firmware_py.craft.stops import name_of_stop
from firmware_py.data.formulary import shipped_formulas
from firmware_py.facts.events import bath as be
from firmware_py.facts.events import box as bx
from firmware_py.facts.events import life as le
from firmware_py.facts.events import run as ev
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.beside_daylight import given_of
from firmware_py.journal.judging import judged as verdict_event
from firmware_py.journal.life_record import PlateRecord
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.seen import appeared_s
from firmware_py.rehearsal.demo import season
from firmware_py.rehearsal.demo.evening import Trays, developed
from firmware_py.rehearsal.demo.glass import WANTED_RANGE, judged, negative
from firmware_py.rehearsal.demo.pen import Pen
from firmware_py.rehearsal.demo.printed import print_of
from firmware_py.rehearsal.demo.season import BOXES, DemoBox

SHORTEST_S, LONGEST_S = 120.0, 720.0
PLATE_EVERY_S = 2000.0
PRINTED_FROM = "Kvarnvik drawer 3"


@dataclass(slots=True)
class Shelf:
    """A box as the season goes on: its plates not yet taken, and what was learned from those judged."""

    box: DemoBox
    box_id: str
    left: list[PlateRecord]
    tried: list[Tried] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Taken:
    """A plate in its holder after an outing, exposed, and how much more it got than the reckoning [stops]."""

    shelf: Shelf
    plate: PlateRecord
    more_stops: float
    subject: str


class Outing(NamedTuple):
    """What all plates of an outing share: sky, stop, and the correction learned of their box [stops]."""

    sky: str
    f_number: float
    correction: float


def demo_book(seed: int = season.SEED) -> Iterator[list[ev.Entry]]:
    """Yield the entries of the book, in order, some at a time; the same seed yields the same book."""
    yield from _Season(seed).days()


class _Season:
    def __init__(self, seed: int) -> None:
        self._pen = Pen(seed, season.FIRST_DAY)
        self._routines = shipped_routines()
        self._holders: list[tuple[str, str]] = []
        self._shelves: list[Shelf] = []
        self._fixers: dict[str, BathRecord] = {}
        self._developed = 0

    def days(self) -> Iterator[list[ev.Entry]]:
        self._pen.begin_day(season.FIRST_DAY + timedelta(hours=18))
        for name in season.HOLDERS:
            entered = bx.HolderEntered(name=name, sides=("A", "B"), size=season.SIZE, rehearsal=True)
            self._holders.append((self._pen.first(entered).subject, name))
        self._shelves = [self._entered(box) for box in BOXES]
        yield self._pen.take()
        for number, (sky, hour, f_number) in enumerate(season.OUTINGS):
            day = season.FIRST_DAY + timedelta(days=1 + number * season.DAYS_BETWEEN)
            shelf = self._shelves[number % len(BOXES)]
            taken = self._outing(day, shelf, sky, hour, f_number)
            yield self._pen.take()
            if number + 1 < len(season.OUTINGS):  # the last ones still wait in their holders
                yield self._evening(day, shelf, taken)

    # --- boxes and outings ---

    def _entered(self, box: DemoBox) -> Shelf:
        entered = bx.BoxEntered(
            name=box.name,
            size=season.SIZE,
            emulsion=box.emulsion,
            sensitivity=box.sensitivity,
            speed_index=box.index,
            batch=f"invented {box.short}",
            opened_utc=self._pen.utc.isoformat(timespec="seconds"),
            rehearsal=True,
        )
        box_id = self._pen.first(entered).subject
        names = (f"{box.short}-{n}" for n in range(1, season.PLATES_IN_A_BOX + 1))
        plates = [le.PlateBoxed(name=name, box_id=box_id, box=box.name, rehearsal=True) for name in names]
        return Shelf(box, box_id, [PlateRecord.begin(self._pen.first(plate)) for plate in plates])

    def _outing(self, day: datetime, shelf: Shelf, sky: str, hour: int, f_number: float) -> list[Taken]:
        pen = self._pen
        pen.begin_day(day + timedelta(hours=4))
        sides = [(*holder, side) for holder in self._holders for side in ("A", "B")]
        plates = [shelf.left.pop(0) for _ in range(season.PLATES_A_DAY)]
        for plate, (holder_id, holder, side) in zip(plates, sides, strict=False):
            pen.wait(40)
            pen.follow(plate.subject, plate, le.PlateLoaded(holder_id=holder_id, holder=holder, side=side))
        begun = (day + timedelta(hours=hour)).replace(tzinfo=season.DIAL)
        outing = Outing(sky, f_number, _correction(shelf))
        return [
            self._exposed(shelf, plate, begun + timedelta(minutes=23 * n), outing)
            for n, plate in enumerate(plates)
        ]

    def _exposed(self, shelf: Shelf, plate: PlateRecord, moment: datetime, outing: Outing) -> Taken:
        pen, box = self._pen, shelf.box
        noted = _noted(moment, outing, pen.random.choice(season.SUBJECTS))
        given = given_of(noted, box.sensitivity, box.index)
        time_s = _on_the_shutter(_reckoned_s(given) * 2**outing.correction)
        more_stops = math.log2(time_s / _reckoned_s(given))
        pen.utc = moment.astimezone(pen.utc.tzinfo)
        pen.wait(30)
        pen.follow(plate.subject, plate, le.PlateExposed())
        pen.follow(plate.subject, plate, _with_time(noted, time_s))
        return Taken(shelf, plate, more_stops, noted.subject)

    # --- evenings ---

    def _evening(self, day: datetime, shelf: Shelf, taken: list[Taken]) -> list[ev.Entry]:
        pen, box = self._pen, shelf.box
        pen.begin_day(day + timedelta(hours=18, minutes=30))
        session = pen.first(ev.BenchStarted(program=__version__, rehearsal=True))
        trays = self._trays(box)
        routine = self._routines[box.routine]
        begun_s, runs = pen.now_s, []
        for n, one in enumerate(taken):
            # A plate is begun while the one before still washes.
            pen.go_to(begun_s + n * PLATE_EVERY_S)
            runs.append(self._through(one, routine, trays))
        pen.follow(trays.developer.subject, trays.developer, be.BathDiscarded(why="used and brown"))
        pen.follow(session.subject, _Session(), ev.BenchStopped(why="the evening is over"))
        pen.begin_day(day + timedelta(days=2, hours=8))
        for one, run in zip(taken, runs, strict=True):
            self._judge(one, run)
        return pen.take()

    def _trays(self, box: DemoBox) -> Trays:
        pen = self._pen
        developer = self._made(box.developer, f"{box.developer} of {pen.utc:%d %B}", 500.0)
        fixer = self._fixers.get(box.fixer)
        if fixer is None or fixer.runs > 24:
            if fixer is not None:
                pen.follow(fixer.subject, fixer, be.BathDiscarded(why="clears too slowly"))
            fixer = self._fixers[box.fixer] = self._made(box.fixer, f"{box.fixer} jar", 1000.0)
        room_degC = pen.random.uniform(15.5, 19.5)
        return Trays(developer, fixer, room_degC, QuantisedProbe(seed=pen.random.getrandbits(32)))

    def _made(self, name: str, called: str, volume_ml: float) -> BathRecord:
        formula = shipped_formulas()[name]
        capacity, keeping, development = formula.capacity, formula.keeping, formula.development
        made = be.BathMade(
            name=called,
            formula=name,
            title=formula.title,
            kind=formula.kind,
            volume_ml=volume_ml,
            made_utc=self._pen.utc.isoformat(timespec="seconds"),
            rehearsal=True,
            cm2_per_l=capacity.cm2_per_l if capacity else None,
            capacity_source=capacity.source if capacity else "",
            keeps_s=keeping.mixed_s if keeping else None,
            keeping_source=keeping.source if keeping else "",
            longer_percent=capacity.longer_percent if capacity else None,
            longer_every_cm2_per_l=capacity.longer_every_cm2_per_l if capacity else None,
            works_at_degC=development.reference_degC if development else None,
        )
        return BathRecord.begin(self._pen.first(made))

    def _through(self, one: Taken, routine: Routine, trays: Trays) -> RunRecord:
        pen, plate = self._pen, one.plate
        until_s = self._until_s(one.shelf, routine)
        run = developed(pen, one.shelf.box, plate.name, routine, trays, until_s=until_s)
        pen.follow(plate.subject, plate, le.PlateLaidOut(run_id=run.run_id, tray=run.opened.tray))
        for stage in ("developing", "washed"):
            pen.follow(plate.subject, plate, le.PlateAdvanced(to=stage, run_id=run.run_id))
        pen.follow(run.run_id, run, ev.NoteWritten(text=one.subject))
        pen.wait(60)
        return run

    def _until_s(self, shelf: Shelf, routine: Routine) -> float:
        """Return how long the next plate is developed [s]: by the routine, then as the plates have told."""
        if not shelf.tried:
            return next(step.development.target_s for step in routine.steps if step.development)
        wanted_s = next_plate(shelf.tried, wanted_range=WANTED_RANGE).equivalent_s.value
        if shelf.box.measures and len(shelf.tried) == season.PLATES_A_DAY:
            wanted_s *= 1.5  # one outing longer on purpose, so that the growth of contrast shows
        return min(LONGEST_S, max(SHORTEST_S, wanted_s))

    def _judge(self, one: Taken, run: RunRecord) -> None:
        pen, plate, box = self._pen, one.plate, one.shelf.box
        pen.wait(300)
        pen.follow(plate.subject, plate, le.PlateAdvanced(to="dry"))
        self._developed += 1
        if self._developed == 31:  # one always breaks
            pen.follow(plate.subject, plate, le.PlateBroken(how="slipped off the rack"))
            return
        step = run.development
        assert step is not None
        longer = run.times_longer(step.step)
        fresh_s = step.equivalent_s / longer
        made = negative(box, one.more_stops, fresh_s, pen.random)
        verdict = judged(made, measured=box.measures or pen.random.random() < 0.25, random=pen.random)
        pen.follow(run.run_id, run, verdict_event(verdict, plate.name))
        seen_s = appeared_s(run, step)
        one.shelf.tried.append(_tried(run, plate.name, fresh_s, seen_s and seen_s / longer, one.more_stops))
        pen.follow(plate.subject, plate, le.PlateFiled(place=PRINTED_FROM))
        if verdict.contrast == verdict.density == "right" and pen.random.random() < 0.6:
            print_of(pen, run)


class _Session:
    """A session's fold: it only counts."""

    number = 1

    def apply(self, entry: ev.Entry) -> None:
        self.number = entry.number


def _correction(shelf: Shelf) -> float:
    if not shelf.tried:
        return 0.0
    learned = next_plate(shelf.tried, wanted_range=WANTED_RANGE).correction_stops
    return learned.value if learned is not None else 0.0


def _tried(run: RunRecord, plate: str, fresh_s: float, seen_s: float | None, more_stops: float) -> Tried:
    verdict = run.verdicts[plate]
    low, high, fog = verdict.shadow_density, verdict.highlight_density, verdict.fog_density
    return Tried(
        plate=plate,
        equivalent_s=fresh_s,
        contrast=verdict.contrast,
        density=verdict.density,
        appeared_s=seen_s,
        gamma=verdict.gamma,
        density_range=high - low if low is not None and high is not None else None,
        shadow_over_fog=low - fog if low is not None and fog is not None else None,
        exposed_stops=more_stops,
    )


def _reckoned_s(given: Given) -> float:
    try:
        return against_daylight(given).reckoned_s
    except Refused as refused:  # pragma: no cover - the outings are made for daylight
        raise AssertionError(refused) from refused


def _on_the_shutter(time_s: float) -> float:
    """Return the nearest time in thirds of a stop, to three figures."""
    thirds = round(3 * math.log2(time_s)) / 3
    return float(f"{2**thirds:.3g}")


def _noted(moment: datetime, outing: Outing, seen: tuple[str, str, str]) -> le.ExposureNoted:
    """Return what is written down of an exposure; ``seen`` is a row of the season's subjects."""
    words, scene, lighting = seen
    return le.ExposureNoted(
        taken=moment.isoformat(timespec="minutes"),
        where="Kvarnvik",
        latitude_deg=season.PLACE.latitude_deg,
        longitude_deg=season.PLACE.longitude_deg,
        subject=words,
        scene=scene,
        sky=outing.sky,
        lighting=lighting,
        stop=name_of_stop(outing.f_number),
        f_number=outing.f_number,
        time_s=1.0,
    )


def _with_time(noted: le.ExposureNoted, time_s: float) -> le.ExposureNoted:
    from msgspec.structs import replace

    return replace(noted, time_s=time_s)
