"""What is done with notes of exposures: taken in one by one, or as a whole table or not at all."""

from __future__ import annotations

from collections.abc import Container
from datetime import UTC, datetime

from firmware_py.bench.plates.plate_shelf import PlateShelf, Side, minute
from firmware_py.bench.scribe import Scribe
from firmware_py.craft.exposure_note import find_place, read_taken
from firmware_py.craft.refusal import Refused
from firmware_py.craft.scene import lighting_called, sky_called, subject_called
from firmware_py.facts.acts import plate as pa
from firmware_py.facts.events import life as le
from firmware_py.journal.life_record import PlateRecord


class ExposureDeeds:
    """Writes exposures down, or raises Refused and changes nothing."""

    def __init__(self, shelf: PlateShelf, scribe: Scribe) -> None:
        self._shelf = shelf
        self._scribe = scribe

    def note(self, act: pa.NoteExposure) -> None:
        """Write down what one plate got."""
        noted = self._noted(act)
        plate = self._shelf.plate_called(act.plate)
        _require_out_of_its_box(plate)
        self._write(plate, noted)

    def take_in(self, act: pa.ImportExposures) -> None:
        """Write down what every line of a table says, or refuse the first that can not be."""
        found: dict[str, tuple[PlateRecord, le.ExposureNoted]] = {}
        for written in act.lines:
            try:
                plate, noted = self._read(written.note, found)
            except Refused as refused:
                raise refused.at(f"line {written.line}") from None
            found[plate.subject] = (plate, noted)
        for plate, noted in found.values():
            self._write(plate, noted)

    def _read(self, note: pa.NoteExposure, found: Container[str]) -> tuple[PlateRecord, le.ExposureNoted]:
        noted = self._noted(note)
        plate = self._meant(note.plate, noted)
        if plate.subject in found:
            raise Refused(f"{plate.name} stands there twice", allowed="one line for each plate")
        return plate, noted

    def _write(self, plate: PlateRecord, noted: le.ExposureNoted) -> None:
        if plate.stage == "loaded":
            self._scribe.follow(plate, le.PlateExposed())
        if plate.exposure != noted:
            self._scribe.follow(plate, noted)

    def _meant(self, words: str, noted: le.ExposureNoted) -> PlateRecord:
        """Return the plate that a line speaks of; a side may have held several since.

        It is the one with that very note, or that lay in the side then, or that lies there without a note.
        """
        side = self._shelf.find_side(words)
        if side is None:
            plate = self._shelf.plate_called(words)
            _require_out_of_its_box(plate)
            return plate
        held = [plate for plate in self._shelf.plates.values() if _was_in(plate, side)]
        for fits in (lambda plate: plate.exposure == noted, lambda plate: _lay_there(plate, noted.taken)):
            if fitting := [plate for plate in held if fits(plate)]:
                return max(fitting, key=lambda plate: plate.since_utc)
        plate = self._shelf.require_plate_in(side)
        if plate.exposure is not None:
            since = minute(plate.loading.loaded_utc) if plate.loading else ""
            what = f"{plate.name} lies in side {side.name} since {since} and has another note"
            raise Refused(what, allowed="the plate's own name instead of the side, to replace its note")
        return plate

    def _noted(self, act: pa.NoteExposure) -> le.ExposureNoted:
        _require_known_words(act)
        latitude_deg, longitude_deg = self._position(act)
        return le.ExposureNoted(
            taken=act.taken,
            where=act.where,
            latitude_deg=latitude_deg,
            longitude_deg=longitude_deg,
            subject=act.subject,
            scene=act.scene,
            sky=act.sky,
            lighting=act.lighting,
            stop=act.stop,
            f_number=act.f_number,
            time_s=act.time_s,
            extension=act.extension,
            extension_factor=act.extension_factor,
            filters=act.filters,
            filter_factor=act.filter_factor,
            remark=act.remark,
        )

    def _position(self, act: pa.NoteExposure) -> tuple[float | None, float | None]:
        """Return where that is: as said, as written, or as an earlier note of the same place has it."""
        if act.latitude_deg is not None and act.longitude_deg is not None:
            return act.latitude_deg, act.longitude_deg
        place = find_place(act.where)
        if place is not None:
            return place.latitude_deg, place.longitude_deg
        wanted = act.where.casefold()
        for plate in sorted(self._shelf.plates.values(), key=lambda plate: plate.subject):
            noted = plate.exposure
            if (
                wanted
                and noted is not None
                and noted.latitude_deg is not None
                and noted.where.casefold() == wanted
            ):
                return noted.latitude_deg, noted.longitude_deg
        return None, None


def _require_known_words(act: pa.NoteExposure) -> None:
    """Refuse a moment, a sky, a lighting or a scene that no reckoning would know."""
    if act.taken:
        read_taken(act.taken, where="when")
    if act.sky:
        sky_called(act.sky)
    if act.lighting:
        lighting_called(act.lighting)
    if act.scene:
        subject_called(act.scene)


def _require_out_of_its_box(plate: PlateRecord) -> None:
    if plate.stage == "boxed":
        words = f"{plate.name} is boxed since {minute(plate.since_utc)}, in no holder"
        raise Refused(words, where="exposure", allowed="a plate that was loaded")


def _was_in(plate: PlateRecord, side: Side) -> bool:
    loading = plate.loading
    if loading is None or plate.stage == "boxed":
        return False
    return (loading.holder_id, loading.side) == side.key


def _lay_there(plate: PlateRecord, taken: str) -> bool:
    loading = plate.loading
    if loading is None or not taken:
        return False
    moment = datetime.fromisoformat(taken).astimezone(UTC)
    until = datetime.fromisoformat(loading.left_utc) if loading.left_utc else None
    return datetime.fromisoformat(loading.loaded_utc) <= moment and (until is None or moment <= until)
