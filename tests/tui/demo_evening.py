"""The evening of the manual's pictures: the simulated bench on the demo book, and what it shows at moments.

It is the day after the season's last outing, at Kvarnvik. All of it is done by the real bench, by acts that
a screen or a foot could ask of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

import msgspec

from firmware_py.bench.bench import Bench
from firmware_py.bench.controller import Controller
from firmware_py.bench.show import show
from firmware_py.craft.stops import name_of_stop
from firmware_py.devices.clock import SimulatedClock
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.acts import plate as pa
from firmware_py.facts.acts import print as pr
from firmware_py.facts.acts import run as acts
from firmware_py.facts.views.bench import BenchView
from firmware_py.journal.store import Journal
from firmware_py.rehearsal.demo import season
from firmware_py.rehearsal.rehearsal import Rehearsal, RehearsalPlan
from firmware_py.rehearsal.rehearsed_world import JACKET_PROBE
from firmware_py.rehearsal.script import Script
from firmware_py.rehearsal.world import FailingProbe
from firmware_py.service.bookshelf import Bookshelf
from firmware_py.service.demo import make_demo_book
from firmware_py.service.resuming import resume_bench
from firmware_py.strict_toml import read_toml_text

DAY = season.FIRST_DAY + timedelta(days=2 + season.DAYS_BETWEEN * (len(season.OUTINGS) - 1))
NOON, EVENING = (DAY.replace(tzinfo=season.DIAL) + timedelta(hours=h) for h in (10.0, 18.5))
# A probe in each of the baths that plates are developed and fixed in; a script needs a deed.
WATER = """
title = "The baths of the evening"
[[water]]
bath = "pyro-soda developer"
start = "18.9 degC"
half = "55 min"
[[water]]
bath = "metol-hydroquinone developer"
start = "19.6 degC"
half = "70 min"
[[water]]
bath = "plain hypo, 25 per cent"
start = "17.5 degC"
half = "90 min"
[[deed]]
at = "0 s"
safelight = "on"
"""


@dataclass(frozen=True, slots=True)
class Silence:
    """The wire of a probe breaks."""

    probe: str


Timed = tuple[float, acts.AnyAct | str | Silence]


@dataclass(frozen=True, slots=True)
class Evening:
    """What the bench showed, by the name of the moment, and the book as it is at the end."""

    views: dict[str, BenchView]
    shelf: Bookshelf


async def play_evening(folder: Path) -> Evening:
    """Play noon and evening on the demo book in ``folder``, as fast as it goes."""
    book = folder / "journal.db"
    make_demo_book(book)
    views: dict[str, BenchView] = {}
    with Journal.open(book) as journal:
        for number, (begins, deeds) in enumerate(((NOON, noon()), (EVENING, evening()))):
            await _session(journal, _clock(begins, number), sorted(deeds, key=lambda one: one[0]), views)
    return Evening(views, Bookshelf(book))


# --- the day ---


def noon() -> Iterator[Timed]:
    """Give what is done before going out: two more holders, six plates into them."""
    yield 0.0, acts.SwitchSafelight(on=True)
    yield 1.0, pa.EnterHolder(name="4", size=season.SIZE)
    yield 2.0, pa.EnterHolder(name="5", size=season.SIZE)
    for n, (side, plate) in enumerate(
        {"3A": "B8-13", "3B": "B8-14", "4A": "R3-13", "4B": "R3-14", "5A": "B7-13", "5B": "B7-14"}.items()
    ):
        yield 10.0 + 5.0 * n, pa.LoadPlate(side=side, plate=plate)
    yield 45.0, "noon"


def evening() -> Iterator[Timed]:
    """Give all that is done in the evening."""
    yield 0.0, acts.SwitchSafelight(on=True)
    yield from coming_back()
    yield from baths()
    yield from printing()
    yield from trays()


def coming_back() -> Iterator[Timed]:
    """Give the notes of four exposures; the rest is only called exposed."""
    yield 2.0, _noted("3A", 13.0, 0.5, "Net lofts from the slip", "street, side")
    yield 4.0, _noted("3B", 13.5, 0.5, "Ferry steps, low water", "street, front")
    yield 6.0, _noted("4A", 14.25, 0.25, "Fish racks above the shore", "landscape, side")
    yield 8.0, _noted("4B", 14.5, 0.25, "Fish racks, nearer", "landscape, side")
    yield 10.0, pa.MarkExposed(side="5A")
    yield 12.0, "plates"
    yield 13.0, pa.MarkExposed(side="5B")


def baths() -> Iterator[Timed]:
    """Give the baths that are made beside the fixers that the book knows; one is an old one."""
    for n, (formula, volume_ml, name, days) in enumerate(
        (
            ("pyro-soda", 500.0, "pyro-soda", 0),
            ("metol-hydroquinone", 500.0, "metol-hydroquinone", 0),
            ("paper-metol-hydroquinone", 500.0, "paper developer", 0),
            ("hydroquinone-caustic", 250.0, "hydroquinone, brown jar", 12),
        )
    ):
        made = (EVENING - timedelta(days=days)).isoformat() if days else None
        yield 14.0 + n, ua.MakeBath(formula=formula, volume_ml=volume_ml, name=name, made=made)
    yield 20.0, ua.SetHeat(set_degC=21.0)
    yield 26.0, "baths"


def printing() -> Iterator[Timed]:
    """Give a contact print of an earlier plate: a strip of seven, a base, a burn, the first of three."""
    yield 30.0, pr.ServeFoot(to="lamp")
    yield 31.0, pr.OpenPrint(negative="R3-9", paper="Grevsund contact", grade="2", paper_log_range=1.05)
    yield 32.0, pr.PlanStrip(patches=7, step_stops=0.5, middle_s=8.0)
    for number in range(7):
        yield from _press(40.0 + 12.0 * number)
    yield 60.0, "lamp-strip"
    yield 130.0, pr.ChoosePatch(place=4.5)
    yield 131.0, pr.AddBurn(stops=0.5, place="sky")
    yield 132.0, pr.WantCopies(copies=3)
    yield from _press(140.0)
    yield 143.5, "lamp-lit"
    yield from _press(155.0)  # the burn
    yield 170.0, pr.ServeFoot(to="trays")


def trays() -> Iterator[Timed]:
    """Give six trays: by time, by eye, a print, by first appearance, by time again, one laid ready."""
    yield from by_time(180.0)
    yield from by_eye(330.0)
    yield from a_sheet(540.0)
    yield from by_appearance(640.0)
    yield from by_time_again(1085.0)
    yield 1240.0, acts.OpenRun(plate="5B", routine="pyro-soda-by-appearance", lane=6)
    yield 1246.0, acts.Focus(lane=5)
    yield 1320.0, "trays-six"
    yield 1328.0, pr.ServeFoot(to="lamp")
    yield 1330.0, "lamp-refused"
    yield 1331.0, pr.ServeFoot(to="trays")
    yield 1332.0, Silence(JACKET_PROBE)
    yield 1372.0, "bench"


def by_time(at_s: float) -> Iterator[Timed]:
    """Give a plate by time, which lies too long in its fixer, and is washed."""
    lane = 1
    yield at_s, acts.OpenRun(plate="B8-13", routine="pyro-soda", lane=lane)
    yield at_s + 8.0, ua.NameBath(bath="pyro-soda", step=0, lane=lane)
    yield at_s + 9.0, ua.NameBath(bath="plain-hypo jar", step=2, lane=lane)
    yield at_s + 10.0, acts.Proceed(lane=lane)
    yield at_s + 63.0, acts.Mark(what="image appears", lane=lane)
    yield at_s + 98.0, acts.Mark(what="sky is up", lane=lane)
    yield at_s + 130.0, "trays"
    yield at_s + 368.0, acts.Proceed(lane=lane)
    yield at_s + 540.0, acts.Mark(what="plate is clear", lane=lane)
    yield at_s + 980.0, acts.Focus(lane=lane)
    yield at_s + 983.0, "trays-due"
    yield at_s + 985.0, acts.Proceed(lane=lane)
    yield at_s + 986.0, acts.Focus(lane=5)


def by_eye(at_s: float) -> Iterator[Timed]:
    """Give two plates in one tray, pulled when the shadows show."""
    lane, routine = 2, "metol-hydroquinone-by-inspection"
    yield at_s, acts.OpenRun(plate="R3-13", others=("R3-14",), routine=routine, lane=lane)
    yield at_s + 7.0, ua.NameBath(bath="metol-hydroquinone", step=0, lane=lane)
    yield at_s + 8.0, acts.Focus(lane=lane)
    yield at_s + 10.0, acts.Proceed(lane=lane)
    yield at_s + 47.0, acts.Mark(what="image appears", lane=lane)
    yield at_s + 128.0, acts.Mark(what="sky is up", lane=lane)
    yield at_s + 200.0, "trays-by-eye"
    yield at_s + 370.0, acts.Mark(what="shadow detail shows", lane=lane)
    yield at_s + 380.0, acts.Pull(lane=lane)
    yield at_s + 445.0, acts.Proceed(lane=lane)
    yield at_s + 590.0, acts.Mark(what="plate is clear", lane=lane)
    yield at_s + 1050.0, acts.Proceed(lane=lane)


def a_sheet(at_s: float) -> Iterator[Timed]:
    """Give the print through its baths, in the first tray that is free."""
    lane = 3
    yield at_s, pr.BatheSheet(routine="contact-print")
    yield at_s + 1.0, ua.NameBath(bath="paper developer", step=0, lane=lane)
    yield at_s + 190.0, acts.Proceed(lane=lane)
    yield at_s + 255.0, acts.Proceed(lane=lane)
    yield at_s + 860.0, acts.Proceed(lane=lane)


def by_appearance(at_s: float) -> Iterator[Timed]:
    """Give a plate by its first appearance."""
    lane = 4
    yield at_s, acts.OpenRun(plate="5A", routine="pyro-soda-by-appearance", lane=lane)
    yield at_s + 8.0, ua.NameBath(bath="pyro-soda", step=1, lane=lane)
    yield at_s + 10.0, acts.Proceed(lane=lane)
    yield at_s + 74.0, acts.Proceed(lane=lane)
    yield at_s + 122.0, acts.Mark(what="image appears", lane=lane)
    yield at_s + 400.0, acts.Proceed(lane=lane)
    yield at_s + 520.0, acts.Mark(what="plate is clear", lane=lane)


def by_time_again(at_s: float) -> Iterator[Timed]:
    """Give the plate that is developed last."""
    lane = 5
    yield at_s, acts.OpenRun(plate="B8-14", routine="pyro-soda", lane=lane)
    yield at_s + 8.0, ua.NameBath(bath="pyro-soda", step=0, lane=lane)
    yield at_s + 10.0, acts.Proceed(lane=lane)
    yield at_s + 65.0, acts.Mark(what="image appears", lane=lane)
    yield at_s + 101.0, acts.Mark(what="sky is up", lane=lane)


# --- how it is played ---


class EveningPerson:
    """Does every deed at its moment [s after the start]; a name means a look at what the bench shows."""

    has_pulled_the_plug = False

    def __init__(self, controller: Controller, deeds: Sequence[Timed], views: dict[str, BenchView]) -> None:
        start_s = controller.clock.now_s()
        self._probes = {one.name: one for one in controller.devices.probes if isinstance(one, FailingProbe)}
        self._left = [(start_s + at_s, deed) for at_s, deed in deeds]
        self._views = views

    def next_due_s(self, bench: Bench) -> float | None:
        return self._left[0][0] if self._left else None

    def play(self, bench: Bench) -> None:
        while self._left and self._left[0][0] <= bench.clock.now_s():
            _, deed = self._left.pop(0)
            if isinstance(deed, str):
                # At its usual speed, where this clock jumps.
                self._views[deed] = msgspec.structs.replace(show(bench), speed=1.0)
            elif isinstance(deed, Silence):
                self._probes[deed.probe].play_fault("probe silent")
            else:
                bench.do(deed)

    def is_over(self, bench: Bench) -> bool:
        return not self._left


async def _session(
    journal: Journal, clock: SimulatedClock, deeds: Sequence[Timed], views: dict[str, BenchView]
) -> None:
    script = read_toml_text(WATER, Script, where="the evening")
    rehearsal = Rehearsal(RehearsalPlan(journal.path, speed=math.inf, script=script), journal, clock)
    controller = await rehearsal.controller()
    resume_bench(controller.bench, journal)
    controller.person = EveningPerson(controller, deeds, views)
    await controller.run()


def _clock(begins: datetime, number: int) -> SimulatedClock:
    return SimulatedClock(boot_id=f"{number:032x}", start_utc=begins.astimezone(UTC))


def _press(at_s: float) -> Iterable[Timed]:
    return ((at_s, acts.MoveFoot(down=True)), (at_s + 0.2, acts.MoveFoot(down=False)))


def _noted(side: str, hour: float, time_s: float, words: str, light: str) -> pa.NoteExposure:
    scene, lighting = light.split(", ")
    taken = DAY.replace(tzinfo=season.DIAL) + timedelta(hours=hour)
    return pa.NoteExposure(
        plate=side,
        taken=taken.isoformat(timespec="minutes"),
        where="Kvarnvik",
        latitude_deg=season.PLACE.latitude_deg,
        longitude_deg=season.PLACE.longitude_deg,
        subject=words,
        scene=scene,
        sky="hazy",
        lighting=lighting,
        stop=name_of_stop(16.0),
        f_number=16.0,
        time_s=time_s,
    )
