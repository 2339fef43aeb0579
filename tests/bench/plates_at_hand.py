"""A bench with a box of plates and two holders, for the tests of the book of plates."""

from __future__ import annotations

from dataclasses import replace

from firmware_py.bench.plates.plate_book import PlateBook
from firmware_py.craft.routine import Step
from firmware_py.facts.acts import plate as pa
from firmware_py.journal.life_record import PlateRecord
from tests.bench.bench_at_hand import PLAIN
from tests.bench.upkeep_at_hand import UpkeepAtHand

TO_THE_RACK = replace(
    PLAIN,
    name="to the rack",
    steps=(
        *PLAIN.steps,
        Step(name="Wash", kind="wash", bath="water", time_s=600.0),
        Step(name="Dry", kind="dry", bath="rack", time_s=60.0),
    ),
)


class PlatesAtHand(UpkeepAtHand):
    """The bench, the acts of the book in short, and what is in it."""

    def __init__(self, *, plates: int = 3) -> None:
        super().__init__()
        self.bench.runs._routines["to the rack"] = TO_THE_RACK  # type: ignore[index]
        self.bench.plan.routines["to the rack"] = TO_THE_RACK  # type: ignore[index]
        if plates:
            self.do(pa.EnterBox(name="spring", plates=plates, speed_index=2.0, batch="2 March"))
        for name in ("3", "4"):
            self.do(pa.EnterHolder(name=name))

    @property
    def book(self) -> PlateBook:
        return self.bench.plates

    def plate(self, name: str) -> PlateRecord:
        return self.book.shelf.plate_called(name)

    def stage(self, name: str) -> str:
        return self.plate(name).stage

    def load(self, side: str, **more: str) -> None:
        self.do(pa.LoadPlate(side=side, **more))

    def expose(self, side: str) -> None:
        self.do(pa.MarkExposed(side=side))

    def note(self, plate: str, **more: object) -> None:
        self.do(pa.NoteExposure(plate=plate, **more))  # type: ignore[arg-type]
