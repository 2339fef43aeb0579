"""What the bench has at hand of the plates' book, and how a person's words find a box, a side or a plate."""

from __future__ import annotations

from typing import NamedTuple

from firmware_py.craft.refusal import Refused, shown
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.life_record import PlateRecord

# Of the plates that are filed or broken, so many are kept at hand: to be noted, or named by mistake.
AT_REST_AT_HAND = 100
AT_REST = frozenset({"filed", "broken"})


class Side(NamedTuple):
    """A side of a holder."""

    holder: HolderRecord
    side: str

    @property
    def name(self) -> str:
        """Get what it is called: 3B."""
        return self.holder.name + self.side

    @property
    def key(self) -> tuple[str, str]:
        """Get what it is known by in the journal."""
        return self.holder.subject, self.side


class Left(NamedTuple):
    """The plate that left a side last, and when (UTC)."""

    utc: str
    plate: str


class PlateShelf:
    """Boxes and holders in use, plates at hand, all by their ids, and when each side was emptied.

    ``finished`` are boxes that are used up, of which plates may still be on their way.
    """

    def __init__(self) -> None:
        self.boxes: dict[str, BoxRecord] = {}
        self.finished: dict[str, BoxRecord] = {}
        self.holders: dict[str, HolderRecord] = {}
        self.plates: dict[str, PlateRecord] = {}
        self.emptied: dict[tuple[str, str], Left] = {}

    @property
    def sides(self) -> list[Side]:
        """Get every side of every holder in use."""
        return [Side(holder, side) for holder in self.holders.values() for side in holder.sides]

    def box_called(self, words: str) -> BoxRecord:
        """Return the box of that name or id. Raises Refused with the names there are."""
        wanted = _plain(words)
        for box in self.boxes.values():
            if wanted in {_plain(box.name), box.subject}:
                return box
        raise _unknown("box", words, [box.name for box in self.boxes.values()])

    def holder_called(self, words: str) -> HolderRecord:
        """Return the holder of that name or id. Raises Refused with the names there are."""
        wanted = _plain(words)
        for holder in self.holders.values():
            if wanted in {_plain(holder.name), holder.subject}:
                return holder
        raise _unknown("holder", words, [holder.name for holder in self.holders.values()])

    def find_side(self, words: str) -> Side | None:
        """Return the side of that name, None where there is none."""
        return next((side for side in self.sides if _plain(side.name) == _plain(words)), None)

    def side_called(self, words: str) -> Side:
        """Return the side of that name. Raises Refused with the names there are."""
        side = self.find_side(words)
        if side is None:
            raise _unknown("side", words, [side.name for side in self.sides])
        return side

    def plate_in(self, side: Side) -> PlateRecord | None:
        """Return the plate in a side; the one loaded last where two benches' books tell of two."""
        here = [plate for plate in self.plates.values() if _lies_in(plate, side)]
        return max(here, key=lambda plate: plate.since_utc, default=None)

    def require_plate_in(self, side: Side) -> PlateRecord:
        """Return the plate in a side. Raises Refused with since when there is none."""
        plate = self.plate_in(side)
        if plate is None:
            raise Refused(self.empty_words(side), where="plates", allowed=self._full_sides())
        return plate

    def empty_words(self, side: Side) -> str:
        """Return that a side holds no plate, and since when, as far as that is known."""
        left = self.emptied.get(side.key)
        if left is None:
            return f"side {side.name} holds no plate"
        return f"side {side.name} holds no plate since {minute(left.utc)}, when {left.plate} left it"

    def find_plate(self, words: str) -> PlateRecord | None:
        """Return the newest plate of that name or id, or the one in that side; None where there is none.

        Raises Refused for a side that holds none.
        """
        wanted = _plain(words)
        named = [plate for plate in self.plates.values() if wanted in {_plain(plate.name), plate.subject}]
        if named:
            return max(named, key=lambda plate: plate.subject)
        side = self.find_side(words)
        return self.require_plate_in(side) if side is not None else None

    def plate_called(self, words: str) -> PlateRecord:
        """Return that plate. Raises Refused where there is none at hand."""
        plate = self.find_plate(words)
        if plate is None:
            what = f"no plate or side is called {shown(words)}"
            raise Refused(what, where="plates", allowed="see `embertray logbook plates`, or the page Plates")
        return plate

    def box_of(self, plate: PlateRecord) -> BoxRecord | None:
        """Return the box a plate came from, also one that is finished."""
        return self.boxes.get(plate.boxed.box_id) or self.finished.get(plate.boxed.box_id)

    def left_in(self, box: BoxRecord) -> list[PlateRecord]:
        """Return the plates that lie unexposed in a box, by their numbers."""
        here = (plate for plate in self.plates.values() if plate.boxed.box_id == box.subject)
        return sorted((plate for plate in here if plate.stage == "boxed"), key=_number)

    def holds_name(self, name: str) -> bool:
        """Return whether a plate that is not at rest is called so."""
        living = (plate for plate in self.plates.values() if plate.stage not in AT_REST)
        return any(_plain(plate.name) == _plain(name) for plate in living)

    def settle(self) -> None:
        """Remember what left its side, and let go of what has long been at rest."""
        for plate in self.plates.values():
            loading = plate.loading
            if loading is not None and loading.left_utc:
                self.empties(loading.holder_id, loading.side, Left(loading.left_utc, plate.name))
        at_rest = sorted(
            (plate for plate in self.plates.values() if plate.stage in AT_REST),
            key=lambda plate: plate.since_utc,
        )
        for plate in at_rest[: max(0, len(at_rest) - AT_REST_AT_HAND)]:
            del self.plates[plate.subject]

    def empties(self, holder_id: str, side: str, left: Left) -> None:
        """Remember what left a side, unless something left it later."""
        before = self.emptied.get((holder_id, side))
        if before is None or before.utc <= left.utc:
            self.emptied[holder_id, side] = left

    def _full_sides(self) -> str:
        full = [side.name for side in self.sides if self.plate_in(side) is not None]
        return ", ".join(full) or "load a plate first"


def minute(utc: str) -> str:
    """Return a moment to the minute, for a person."""
    return f"{utc[:16].replace('T', ' ')} UTC"


def _lies_in(plate: PlateRecord, side: Side) -> bool:
    place = plate.place
    return place is not None and (place.holder_id, place.side) == side.key


def _number(plate: PlateRecord) -> tuple[int, str]:
    digits = plate.name.rpartition("/")[2]
    return (int(digits) if digits.isdecimal() else 0, plate.name)


def _plain(words: str) -> str:
    return " ".join(words.split()).casefold()


def _unknown(what: str, words: str, names: list[str]) -> Refused:
    allowed = ", ".join(names) or f"enter a {'holder' if what == 'side' else what} first"
    return Refused(f"no {what} is called {shown(words)}", where="plates", allowed=allowed)
