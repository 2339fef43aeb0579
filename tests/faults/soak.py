"""24 simulated hours of unbroken work at the highest speed: ``python -m tests.faults.soak [--hours 24]``.

Three trays, the lamp, baths and the heater are kept busy by a person who never tires; a screen looks on
once a simulated minute. Each hour one line: memory, handles, the book's growth, the time of a turn.
The last line holds the second half of the hours against the first.
"""

from __future__ import annotations

import argparse
import asyncio
import gc
import resource
import sys
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from random import Random
from statistics import fmean, median, quantiles

from firmware_py.bench.bench import Bench
from firmware_py.bench.controller import Controller
from firmware_py.bench.show import show
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.acts import print as pa
from firmware_py.facts.acts import run as acts
from firmware_py.facts.acts.act import Act
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from firmware_py.rehearsal.rehearsal import Rehearsal, RehearsalPlan
from tests.faults.stage.moments import now_s

HOUR_S = 3600.0
ROUTINES = ("metol-hydroquinone", "pyro-soda", "metol-hydroquinone-by-inspection")
FORMULAS = ("metol-hydroquinone", "pyro-soda")
TRAYS = 3
ACTS_EVERY_S = 5.0
LOOKS_EVERY_S = 60.0
SHEETS_A_NEGATIVE = 8
BATHS_EVERY_S = 6 * HOUR_S
# What may grow in the second half, as shares of the first; measured quiet, doubled.
MOST_MEMORY, MOST_TURN = 1.10, 1.30


class TirelessPerson:
    """Always finds something to do; whatever the bench refuses is tried another way."""

    has_pulled_the_plug = False

    def __init__(self, until_s: float, seed: int) -> None:
        self._until_s = until_s
        self._dice = Random(seed)
        self._next_s = 0.0
        self._plates = 0
        self._sheets = 0
        self._bath_s = 0.0
        self._baths: list[str] = []
        self.done = self.refused = 0

    def next_due_s(self, bench: Bench) -> float | None:
        return self._next_s

    def is_over(self, bench: Bench) -> bool:
        return bench.clock.now_s() >= self._until_s

    def play(self, bench: Bench) -> None:
        now = bench.clock.now_s()
        if now < self._next_s:
            return
        self._next_s = now + ACTS_EVERY_S
        for act in (*self._at_the_trays(bench), *self._at_the_lamp(bench), *self._upkeep(bench, now)):
            self._do(bench, act)

    def _do(self, bench: Bench, act: acts.AnyAct) -> None:
        try:
            bench.do(act)
            self.done += 1
        except Refused:
            self.refused += 1

    def _at_the_trays(self, bench: Bench) -> list[acts.AnyAct]:
        lanes = bench.runs.lanes
        wanted: list[acts.AnyAct] = []
        for number in range(1, TRAYS + 1):
            lane = lanes.get(number)
            if lane is None or lane.record.state == "ended":
                self._plates += 1
                plate = f"Skarnholm {self._plates}"
                routine = self._dice.choice(ROUTINES)
                wanted.append(acts.OpenRun(plate=plate, routine=routine, lane=number, box="Skarnholm blue 7"))
            elif lane.record.state in {"ready", "due"}:
                wanted.append(acts.Proceed(lane=number))
            elif self._dice.random() < 0.02:
                wanted.append(self._meanwhile(bench, number))
        return wanted

    def _meanwhile(self, bench: Bench, number: int) -> acts.AnyAct:
        may: list[acts.AnyAct] = [
            acts.Mark(what="image appears", lane=number),
            acts.Mark(what="plate is clear", lane=number),
            acts.Note(text="the corner is lighter", lane=number),
            acts.Pull(lane=number),
            acts.ChangeWater(lane=number),
            acts.CutShort(lane=number),
        ]
        return self._dice.choice(may)

    def _at_the_lamp(self, bench: Bench) -> list[acts.AnyAct]:
        record = bench.lamp_side.printing.record
        if record is None or record.state == "ended":
            self._sheets = 0
            return [pa.OpenPrint(negative=f"Skarn light {self._plates}", paper="contact paper")]
        if record.base_s is None:
            return [pa.SetBase(base_s=8.0)]
        if bench.open_plates():
            return []
        self._sheets += record.state == "dark"
        if self._sheets > SHEETS_A_NEGATIVE:
            return [pa.EndPrint()]
        return [pa.Expose()] if record.state == "dark" else []

    def _upkeep(self, bench: Bench, now: float) -> list[acts.AnyAct]:
        if now < self._bath_s:
            return []
        self._bath_s = now + BATHS_EVERY_S
        name = f"bath of hour {now / HOUR_S:.0f}"
        wanted: list[Act] = [ua.SetHeat(set_degC=21.0)]
        wanted += [
            ua.MakeBath(formula=formula, volume_ml=1000.0, name=f"{name} {n}")
            for n, formula in enumerate(FORMULAS)
        ]
        wanted += [ua.DiscardBath(bath=old, why="old") for old in self._baths]
        self._baths = [f"{name} {n}" for n, _ in enumerate(FORMULAS)]
        return wanted  # type: ignore[return-value]


@dataclass(frozen=True)
class Hour:
    """One simulated hour: memory [MB], open handles, the book [MB], its events, the time of a turn [µs]."""

    memory_MB: float
    handles: int
    book_MB: float
    events: int
    turn_us: float
    slow_turn_us: float
    look_us: float

    def line(self, number: int) -> str:
        return (
            f"{number:4} {self.memory_MB:9.1f} {self.handles:8} {self.book_MB:8.2f} {self.events:8} "
            f"{self.turn_us:9.0f} {self.slow_turn_us:11.0f} {self.look_us:9.0f}"
        )


HEAD = "hour memory/MB  handles  book/MB   events   turn/us  99 in 100  look/us"


class Soak:
    """Runs the controller of a rehearsal at the highest speed, and measures from within the loop."""

    def __init__(self, folder: Path, hours: int, seed: int) -> None:
        self.folder = folder
        self.hours: list[Hour] = []
        self._wanted = hours
        self._seed = seed
        self._turns: list[float] = []
        self._looks: list[float] = []

    async def run(self) -> TirelessPerson:
        path = self.folder / "journal.db"
        with Journal.open(path) as journal:
            controller = await Rehearsal(RehearsalPlan(path, speed=float("inf")), journal).controller()
            began = controller.clock.now_s()
            person = TirelessPerson(began + self._wanted * HOUR_S, self._seed)
            controller.person = person
            self._measure(controller, journal, began)
            await controller.run()
        return person

    def _measure(self, controller: Controller, journal: Journal, began: float) -> None:
        """Stand at the place where the controller waits: there a turn is over."""
        wait = controller.clock.wait_until
        since = [now_s()]
        look_s = [0.0]

        async def measured(due_s: float, wake: asyncio.Event) -> None:
            self._turns.append(now_s() - since[0])
            if controller.clock.now_s() >= look_s[0]:
                self._look(controller)
                look_s[0] = controller.clock.now_s() + LOOKS_EVERY_S
            if controller.clock.now_s() - began >= (len(self.hours) + 1) * HOUR_S:
                self._note(journal)
            await wait(due_s, wake)
            since[0] = now_s()

        controller.clock.wait_until = measured  # type: ignore[method-assign]

    def _look(self, controller: Controller) -> None:
        began = now_s()
        show(controller.bench)
        self._looks.append(now_s() - began)

    def _note(self, journal: Journal) -> None:
        gc.collect()
        pages = int(Path("/proc/self/statm").read_text(encoding="ascii").split()[1])
        events = journal._connection.execute("SELECT count(*) FROM event").fetchone()[0]
        hour = Hour(
            memory_MB=pages * resource.getpagesize() / 1e6,
            handles=len(list(Path("/proc/self/fd").iterdir())),
            book_MB=sum(
                file.stat().st_size for file in self.folder.glob("journal.db*") if "ballast" not in file.name
            )
            / 1e6,
            events=events,
            turn_us=1e6 * median(self._turns),
            slow_turn_us=1e6 * quantiles(self._turns, n=100)[-1],
            look_us=1e6 * median(self._looks),
        )
        self.hours.append(hour)
        self._turns.clear()
        self._looks.clear()
        print(hour.line(len(self.hours)), flush=True)


def judged(hours: Sequence[Hour]) -> tuple[str, bool]:
    """Hold the second half against the first; the first hour, in which all is met for once, is left out."""
    half = (len(hours) + 1) // 2
    before, after = hours[1:half] or hours[:1], hours[half:] or hours[-1:]
    memory = fmean(h.memory_MB for h in after) / fmean(h.memory_MB for h in before)
    turn = fmean(h.turn_us for h in after) / fmean(h.turn_us for h in before)
    look = fmean(h.look_us for h in after) / fmean(h.look_us for h in before)
    handles = max(h.handles for h in after) - max(h.handles for h in before)
    bytes_an_event = 1e6 * hours[-1].book_MB / hours[-1].events
    words = (
        f"second half against first: memory x{memory:.2f}, turn x{turn:.2f}, look x{look:.2f}, "
        f"handles {handles:+d}; {hours[-1].events} events, {bytes_an_event:.0f} bytes each"
    )
    return words, memory <= MOST_MEMORY and turn <= MOST_TURN and look <= MOST_TURN and handles <= 0


def main(arguments: Sequence[str] | None = None) -> int:
    """Soak, print the figures; 1 where anything is not flat."""
    parser = argparse.ArgumentParser(prog="python -m tests.faults.soak", description=__doc__)
    parser.add_argument("--hours", type=int, default=24)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args(arguments)
    began = now_s()
    with tempfile.TemporaryDirectory() as folder:
        soak = Soak(Path(folder), asked.hours, asked.seed)
        print(HEAD)
        person = asyncio.run(soak.run())
        found = verify(Path(folder) / "journal.db")
        words, flat = judged(soak.hours)
        print(
            f"{person.done} acts done, {person.refused} refused; {found.runs} runs; "
            f"{len(found.faults)} faults in the book"
        )
        print(f"{words}; in {now_s() - began:.0f} s")
    return int(not flat or bool(found.faults))


if __name__ == "__main__":
    sys.exit(main())
