"""What is done with plates and holders under the red light: loaded, unloaded, said to be exposed."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.bench.notices import Notices
from firmware_py.bench.plates.plate_shelf import PlateShelf, Side, minute
from firmware_py.bench.scribe import Scribe
from firmware_py.craft.light_allowed import before_fixing
from firmware_py.craft.refusal import Locked, Refused
from firmware_py.facts.acts import plate as pa
from firmware_py.facts.events import life as le
from firmware_py.journal.box_record import BoxRecord
from firmware_py.journal.life_record import PlateRecord

IsOn = Callable[[], bool | None]


class HolderDeeds:
    """Does what is asked of a side, or raises Refused with the reason and changes nothing."""

    def __init__(self, shelf: PlateShelf, scribe: Scribe, notices: Notices, *, safelight_is_on: IsOn) -> None:
        self._shelf = shelf
        self._scribe = scribe
        self._notices = notices
        self._safelight_is_on = safelight_is_on

    def load(self, act: pa.LoadPlate) -> None:
        """Put a plate into a side."""
        side = self._shelf.side_called(act.side)
        held = self._shelf.plate_in(side)
        if held is not None:
            words = f"side {side.name} holds {held.name} ({held.stage}) since {minute(held.since_utc)}"
            raise Refused(words, where="load", allowed="unload it first, or another side")
        plate = self._wanted(act)
        self._require_bears(plate)
        holder = side.holder
        loaded = le.PlateLoaded(holder_id=holder.subject, holder=holder.name, side=side.side)
        self._scribe.follow(plate, loaded)
        self._compare_sizes(plate, side)

    def unload(self, act: pa.UnloadPlate) -> None:
        """Take a plate out of a side."""
        plate = self._shelf.require_plate_in(self._shelf.side_called(act.side))
        self._require_bears(plate)
        self._scribe.follow(plate, le.PlateUnloaded(why=act.why))

    def mark_exposed(self, act: pa.MarkExposed) -> None:
        """Call the plate in a side exposed."""
        side = self._shelf.side_called(act.side)
        plate = self._shelf.require_plate_in(side)
        if plate.stage == "exposed":
            words = f"{plate.name} in side {side.name} is exposed since {minute(plate.exposed_utc)}"
            raise Refused(words, where="exposed")
        self._scribe.follow(plate, le.PlateExposed())

    def take_back(self, act: pa.TakeBackExposure) -> None:
        """Call a plate unexposed that was called exposed by mistake."""
        plate = self._shelf.plate_called(act.plate)
        if plate.stage != "exposed":
            words = f"{plate.name} is {plate.stage} since {minute(plate.since_utc)}"
            raise Refused(words, where="take back", allowed="a plate that is called exposed")
        self._scribe.follow(plate, le.ExposureTakenBack())

    def _wanted(self, act: pa.LoadPlate) -> PlateRecord:
        if act.plate:
            plate = self._shelf.plate_called(act.plate)
            if plate.stage != "boxed":
                words = f"{plate.name} is {plate.stage} since {minute(plate.since_utc)}"
                raise Refused(words, where="load", allowed="a plate that is boxed")
            return plate
        box = self._shelf.box_called(act.box) if act.box else self._the_only_box()
        left = self._shelf.left_in(box)
        if not left:
            raise Refused(
                f"no plate is left in box {box.name}", where="load", allowed=self._boxes_with_plates()
            )
        return left[0]

    def _the_only_box(self) -> BoxRecord:
        full = [box for box in self._shelf.boxes.values() if self._shelf.left_in(box)]
        if len(full) != 1:
            allowed = self._boxes_with_plates()
            raise Refused("it is not said from which box", where="load", allowed=allowed)
        return full[0]

    def _boxes_with_plates(self) -> str:
        full = [box.name for box in self._shelf.boxes.values() if self._shelf.left_in(box)]
        return ", ".join(full) or "a box that still holds plates: enter one"

    def _require_bears(self, plate: PlateRecord) -> None:
        """Refuse to handle a plate under a safelight that would fog it (the rule of interlock 2)."""
        box = self._shelf.box_of(plate)
        sensitivity = box.kind.sensitivity if box is not None else None
        if before_fixing(sensitivity) == "dark" and self._safelight_is_on():
            words = f"{plate.name} is {sensitivity}: the safelight must be off"
            raise Locked(words, where="interlock 2", allowed="switch the safelight off first")

    def _compare_sizes(self, plate: PlateRecord, side: Side) -> None:
        box = self._shelf.box_of(plate)
        sizes = {box.kind.size if box is not None else "", side.holder.entered.size} - {""}
        if len(sizes) > 1:
            words = (
                f"{plate.name} and holder {side.holder.name} are not of one size: {', '.join(sorted(sizes))}"
            )
            self._notices.say("plate size", words, self._scribe.clock.now_s())
