"""What becomes of plates: laid out for a run, moved on by its steps, dried by hand, filed, broken."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from firmware_py.bench.notices import Notices
from firmware_py.bench.plates.correcting import Correction, correction
from firmware_py.bench.plates.plate_shelf import PlateShelf, minute
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import StepKind
from firmware_py.facts.acts import plate as pa
from firmware_py.facts.acts.plate import BROKEN_GLASS
from firmware_py.facts.acts.run import CorrectPlate, OpenRun
from firmware_py.facts.events import life as le
from firmware_py.facts.events import run as ev
from firmware_py.journal.life_record import ORDER, UNDEVELOPED, PlateRecord
from firmware_py.journal.run_record import RunRecord

# The last step of a kind, once it is over, brings a plate so far.
_BROUGHT_TO: tuple[tuple[StepKind, le.Reached], ...] = (("dry", "dry"), ("wash", "washed"), ("fix", "fixed"))


class LifeDeeds:
    """Moves plates on with their runs, and does what a person asks of one."""

    def __init__(self, shelf: PlateShelf, scribe: Scribe, notices: Notices) -> None:
        self._shelf = shelf
        self._scribe = scribe
        self._notices = notices
        self._in_runs: dict[str, list[PlateRecord]] = {}

    # --- runs ---

    def named_in(self, act: OpenRun, lanes: Iterable[Lane]) -> tuple[OpenRun, list[PlateRecord]]:
        """Return a run as the book completes it, and the plates of the book that are named in it.

        A plate may be named by its side. What is not said of size, emulsion and box is that of the first.
        Raises Refused for a plate that can not go through a run now.
        """
        found = [self._shelf.find_plate(name) for name in (act.plate, *act.others)]
        known = [plate for plate in found if plate is not None]
        for plate in known:
            self._require_free(plate, lanes)
        if len({plate.subject for plate in known}) < len(known):
            raise Refused("a plate is named twice", where="open", allowed="each plate once")
        said = zip(found, (act.plate, *act.others), strict=True)
        first, *others = (one.name if one is not None else name for one, name in said)
        act = msgspec.structs.replace(act, plate=first, others=tuple(others))
        return (_completed(act, known[0], self._shelf), known) if known else (act, [])

    def lay_out(self, plates: Iterable[PlateRecord], lane: Lane) -> None:
        """Write down that plates were taken out for the run of a lane."""
        run = lane.record
        for plate in plates:
            self._scribe.follow(plate, le.PlateLaidOut(run_id=run.run_id, tray=run.opened.tray))
            self._in_runs.setdefault(run.run_id, []).append(plate)

    def corrected_in(self, act: CorrectPlate, lane: Lane, lanes: Iterable[Lane]) -> Correction:
        """Return what the correction of a run's plates comes to, or raise Refused and change nothing."""
        run_id = lane.record.run_id
        in_run = [plate for plate in self._in_runs.get(run_id, ()) if plate.run_id == run_id]
        right = correction(act, lane, in_run, self._shelf)
        for plate in right.coming:
            self._require_free(plate, lanes)
        return right

    def exchange(self, right: Correction, lane: Lane) -> None:
        """Write down that plates were taken for the run of a lane by mistake, and which it is in truth."""
        run_id = lane.record.run_id
        for plate in right.going:
            self._scribe.follow(plate, le.PlateMistaken(run_id=run_id))
            self._in_runs[run_id].remove(plate)
            self._in_runs.setdefault(plate.run_id or "", []).append(plate)
        self.lay_out(right.coming, lane)

    def resume(self, plate: PlateRecord) -> None:
        """Take up a plate that an earlier controller left at hand."""
        if plate.run_id is not None:
            self._in_runs.setdefault(plate.run_id, []).append(plate)

    def settle(self, lanes: Iterable[Lane]) -> bool:
        """Move plates on to where the steps of their runs have brought them; return whether any moved."""
        moved = False
        for lane in lanes:
            for plate in self._in_runs.get(lane.record.run_id, ()):
                moved = self._move_on(plate, lane.record) or moved
        return moved

    def _move_on(self, plate: PlateRecord, run: RunRecord) -> bool:
        reached, number = reached_in(run), plate.number
        if reached is None or plate.stage == reached or plate.run_id != run.run_id:
            return False
        if plate.stage in UNDEVELOPED:
            self._scribe.follow(plate, le.PlateAdvanced(to="developing", run_id=run.run_id))
        if plate.may_become(reached):
            self._scribe.follow(plate, le.PlateAdvanced(to=reached, run_id=run.run_id))
        return plate.number != number

    def _require_free(self, plate: PlateRecord, lanes: Iterable[Lane]) -> None:
        if plate.stage == "broken":
            raise Refused(f"{plate.name} is broken since {minute(plate.since_utc)}", where="open")
        for lane in lanes:
            if lane.record.run_id in plate.runs and lane.record.state != "ended":
                words = f"{plate.name} is in tray {lane.number} already"
                raise Refused(words, where="open", allowed="once that run is over, or given up")

    # --- what a person says of one plate ---

    def advance(self, act: pa.AdvancePlate) -> None:
        """Call a plate fixed, washed or dry."""
        plate = self._shelf.plate_called(act.plate)
        if plate.stage in UNDEVELOPED or not plate.may_become(act.to):
            words = f"{plate.name} is {plate.stage} since {minute(plate.since_utc)}"
            later = [to for to in ORDER if plate.stage in ORDER and plate.may_become(to)]
            raise Refused(words, where=act.to, allowed=", ".join(later) or "a plate that was developed")
        self._scribe.follow(plate, le.PlateAdvanced(to=act.to))

    def put_away(self, act: pa.FilePlate) -> None:
        """Put a dry plate where negatives are kept."""
        plate = self._shelf.plate_called(act.plate)
        if plate.stage != "dry":
            words = f"{plate.name} is {plate.stage} since {minute(plate.since_utc)}"
            raise Refused(words, where="file", allowed="a dry plate")
        self._scribe.follow(plate, le.PlateFiled(place=act.place))

    def break_plate(self, act: pa.BreakPlate) -> None:
        """Write down that a plate broke, with the caution that belongs to it."""
        plate = self._shelf.plate_called(act.plate)
        self._scribe.follow(plate, le.PlateBroken(how=act.how))
        self._notices.say("broken glass", BROKEN_GLASS, self._scribe.clock.now_s())

    def note(self, act: pa.NotePlate) -> None:
        """Write a remark."""
        self._scribe.follow(self._shelf.plate_called(act.plate), ev.NoteWritten(text=act.text))


def reached_in(run: RunRecord) -> le.Reached | None:
    """Return how far a run has brought its plates; None before its first step."""
    over = {step.step for step in run.steps if step.ended_s is not None and step.why != "abandoned"}
    for kind, reached in _BROUGHT_TO:
        last = max((n for n, step in enumerate(run.routine.steps) if step.kind == kind), default=None)
        if last in over:
            return reached
    return "developing" if run.steps else None


def _completed(act: OpenRun, plate: PlateRecord, shelf: PlateShelf) -> OpenRun:
    box = shelf.box_of(plate)
    kind = box.kind if box is not None else None
    return msgspec.structs.replace(
        act,
        box=act.box or plate.boxed.box,
        size=act.size or (kind.size if kind else ""),
        emulsion=act.emulsion or (kind.emulsion if kind else ""),
        sensitivity=act.sensitivity or (kind.sensitivity if kind else None),
    )
