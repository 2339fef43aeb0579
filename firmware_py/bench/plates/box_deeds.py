"""What is done with boxes of plates and with holders: entered, put right, taken out of use."""

from __future__ import annotations

from firmware_py.bench.plates.plate_shelf import PlateShelf
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.upkeep.bath_judgement import read_day
from firmware_py.bench.upkeep.plates import PlateRule
from firmware_py.craft.plate_sizes import read_plate_size
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import plate as pa
from firmware_py.facts.events import box as be
from firmware_py.facts.events.life import PlateBoxed
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.life_record import PlateRecord

MOST_BOXES = 40
MOST_HOLDERS = 40


class BoxDeeds:
    """Does what is asked of boxes and holders, or raises Refused and changes nothing."""

    def __init__(self, shelf: PlateShelf, rule: PlateRule, scribe: Scribe, *, rehearsal: bool) -> None:
        self._shelf = shelf
        self._rule = rule
        self._scribe = scribe
        self._rehearsal = rehearsal

    def enter(self, act: pa.EnterBox) -> None:
        """Enter a box and its plates."""
        name = " ".join(act.name.split())
        self._require_new_box(name, act.plates)
        size = act.size or self._rule.size
        box = self._scribe.begin(
            be.BoxEntered(
                name=name,
                size=read_plate_size(size, where="size").name if size else "",
                emulsion=act.emulsion or self._rule.emulsion,
                sensitivity=act.sensitivity or self._rule.sensitivity,
                speed_index=act.speed_index,
                batch=act.batch,
                opened_utc=self._day(act.opened),
                rehearsal=self._rehearsal,
            ),
            BoxRecord.begin,
        )
        self._shelf.boxes[box.subject] = box
        for number in range(1, act.plates + 1):
            boxed = PlateBoxed(
                name=f"{name}/{number}", box_id=box.subject, box=name, rehearsal=self._rehearsal
            )
            plate = self._scribe.begin(boxed, PlateRecord.begin)
            self._shelf.plates[plate.subject] = plate

    def describe(self, act: pa.DescribeBox) -> None:
        """Put right what a box is."""
        box = self._shelf.box_called(act.box)
        was = box.kind
        described = be.BoxDescribed(
            size=read_plate_size(act.size, where="size").name if act.size else was.size,
            emulsion=act.emulsion or was.emulsion,
            sensitivity=act.sensitivity or was.sensitivity,
            speed_index=act.speed_index if act.speed_index is not None else was.speed_index,
            batch=act.batch or was.batch,
            opened_utc=self._day(act.opened) or was.opened_utc,
        )
        if described != was:
            self._scribe.follow(box, described)

    def finish(self, act: pa.FinishBox) -> None:
        """Take an empty box out of use."""
        box = self._shelf.box_called(act.box)
        left = self._shelf.left_in(box)
        if left:
            words = f"{len(left)} of its plates are still in it ({left[0].name} first)"
            raise Refused(words, where=f"box {box.name}", allowed="once each is used, or said to be broken")
        self._scribe.follow(box, be.BoxFinished(why=act.why))
        self._shelf.finished[box.subject] = self._shelf.boxes.pop(box.subject)

    def enter_holder(self, act: pa.EnterHolder) -> None:
        """Enter a holder."""
        if len(self._shelf.holders) >= MOST_HOLDERS:
            raise Refused(
                f"{MOST_HOLDERS} holders are in use", where="holders", allowed="set one aside first"
            )
        taken = {side.name.casefold(): side.name for side in self._shelf.sides}
        for side in act.sides:
            if (act.name + side).casefold() in taken:
                name = taken[(act.name + side).casefold()]
                raise Refused(f"there is a side {name} already", where="holders", allowed="another name")
        if act.name.casefold() in {holder.name.casefold() for holder in self._shelf.holders.values()}:
            raise Refused(f"a holder is called {act.name} already", where="holders", allowed="another name")
        size = read_plate_size(act.size, where="size").name if act.size else ""
        entered = be.HolderEntered(name=act.name, sides=act.sides, size=size, rehearsal=self._rehearsal)
        holder = self._scribe.begin(entered, HolderRecord.begin)
        self._shelf.holders[holder.subject] = holder

    def set_aside(self, act: pa.SetHolderAside) -> None:
        """Take an empty holder out of use."""
        holder = self._shelf.holder_called(act.holder)
        for side in self._shelf.sides:
            plate = self._shelf.plate_in(side) if side.holder is holder else None
            if plate is not None:
                words = f"side {side.name} holds {plate.name}"
                raise Refused(words, where=f"holder {holder.name}", allowed="once it is unloaded")
        self._scribe.follow(holder, be.HolderSetAside(why=act.why))
        del self._shelf.holders[holder.subject]

    def _require_new_box(self, name: str, plates: int) -> None:
        if len(self._shelf.boxes) >= MOST_BOXES:
            raise Refused(f"{MOST_BOXES} boxes are in use", where="boxes", allowed="finish one first")
        if name.casefold() in {box.name.casefold() for box in self._shelf.boxes.values()}:
            raise Refused(f"a box is called {name!r} already", where="boxes", allowed="another name")
        for one in (f"{name}/{number}" for number in range(1, plates + 1)):
            if self._shelf.holds_name(one):
                words = f"{one} is still on its way, from a box of that name"
                raise Refused(words, where="boxes", allowed="another name")

    def _day(self, said: str | None) -> str:
        return read_day(said, self._scribe.clock.utc(), where="opened") if said else ""
