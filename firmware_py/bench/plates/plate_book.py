"""The book of plates as the bench keeps it: the acts that concern it, and what runs do to its plates."""

from __future__ import annotations

from collections.abc import Hashable, Iterable

from firmware_py.bench.notices import Notices
from firmware_py.bench.plates.box_deeds import BoxDeeds
from firmware_py.bench.plates.exposure_deeds import ExposureDeeds
from firmware_py.bench.plates.holder_deeds import HolderDeeds, IsOn
from firmware_py.bench.plates.life_deeds import LifeDeeds
from firmware_py.bench.plates.plate_shelf import Left, PlateShelf
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.runs import Runs
from firmware_py.bench.upkeep.plates import PlateRule
from firmware_py.facts.acts import plate as pa
from firmware_py.facts.acts.run import CorrectPlate, OpenRun
from firmware_py.facts.events.box import BoxDescribed
from firmware_py.facts.views.plates import PlatesView
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.life_record import PlateRecord


class PlateBook:
    """Boxes, holders and plates. ``revision`` rises with every change to them; ``drawn`` is the last view."""

    def __init__(
        self,
        scribe: Scribe,
        notices: Notices,
        *,
        rehearsal: bool,
        rule: PlateRule | None = None,
        safelight_is_on: IsOn = lambda: None,
    ) -> None:
        self.shelf = PlateShelf()
        self.revision = 0
        self.drawn: tuple[Hashable, PlatesView] | None = None
        self._notices = notices
        self._boxes = BoxDeeds(self.shelf, rule or PlateRule(), scribe, rehearsal=rehearsal)
        self._holders = HolderDeeds(self.shelf, scribe, notices, safelight_is_on=safelight_is_on)
        self._exposures = ExposureDeeds(self.shelf, scribe)
        self._lives = LifeDeeds(self.shelf, scribe, notices)

    # --- taken up from the journal ---

    def resume_box(self, box: BoxRecord) -> None:
        """Take up a box: one in use, or a finished one that plates at hand came from."""
        shelved = self.shelf.boxes if box.state == "open" else self.shelf.finished
        shelved[box.subject] = box
        self.revision += 1

    def resume_holder(self, holder: HolderRecord) -> None:
        """Take up a holder in use."""
        self.shelf.holders[holder.subject] = holder
        self.revision += 1

    def resume_plate(self, plate: PlateRecord) -> None:
        """Take up a plate that is at hand."""
        self.shelf.plates[plate.subject] = plate
        self._lives.resume(plate)
        self.revision += 1

    def resume_emptied(self, holder_id: str, side: str, left: Left) -> None:
        """Take up when a side was emptied last."""
        self.shelf.empties(holder_id, side, left)
        self.revision += 1

    # --- what a person does ---

    def do(self, act: pa.AnyPlateAct) -> None:
        """Do what a person asks, or raise Refused and change nothing."""
        self._notices.clear("broken glass")
        self._notices.clear("plate size")
        match act:
            case pa.EnterBox():
                self._boxes.enter(act)
            case pa.DescribeBox():
                self._boxes.describe(act)
            case pa.FinishBox():
                self._boxes.finish(act)
            case pa.EnterHolder():
                self._boxes.enter_holder(act)
            case pa.SetHolderAside():
                self._boxes.set_aside(act)
            case pa.NoteExposure():
                self._exposures.note(act)
            case pa.ImportExposures():
                self._exposures.take_in(act)
            case _:
                self._do_with_a_plate(act)
        self.shelf.settle()
        self.revision += 1

    def _do_with_a_plate(self, act: pa.AnyPlateAct) -> None:
        match act:
            case pa.LoadPlate():
                self._holders.load(act)
            case pa.UnloadPlate():
                self._holders.unload(act)
            case pa.MarkExposed():
                self._holders.mark_exposed(act)
            case pa.TakeBackExposure():
                self._holders.take_back(act)
            case pa.AdvancePlate():
                self._lives.advance(act)
            case pa.FilePlate():
                self._lives.put_away(act)
            case pa.BreakPlate():
                self._lives.break_plate(act)
            case pa.NotePlate():
                self._lives.note(act)

    # --- runs ---

    def named_in(self, act: OpenRun, lanes: Iterable[Lane]) -> tuple[OpenRun, list[PlateRecord]]:
        """Return a run as the book completes it, and the plates of the book named in it; or raise Refused."""
        return self._lives.named_in(act, lanes)

    def lay_out(self, plates: Iterable[PlateRecord], lane: Lane) -> None:
        """Take in that plates were taken out for the run of a lane."""
        self._lives.lay_out(plates, lane)
        self.shelf.settle()
        self.revision += 1

    def correct(self, act: CorrectPlate, lane: Lane, runs: Runs) -> BoxDescribed | None:
        """Name the plates of a run anew: the wrong ones go back, the right ones are taken out.

        Returns what the right ones are, None where that is not known. Raises Refused and changes nothing.
        """
        right = self._lives.corrected_in(act, lane, runs.lanes.values())
        runs.correct(lane, right.named)
        self._lives.exchange(right, lane)
        self.shelf.settle()
        self.revision += 1
        return right.kind

    def settle(self, lanes: Iterable[Lane]) -> None:
        """Move plates on to where the steps of their runs have brought them."""
        if self._lives.settle(lanes):
            self.shelf.settle()
            self.revision += 1
