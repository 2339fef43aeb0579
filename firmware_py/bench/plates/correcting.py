"""A run that was opened with the wrong plate: which plates of the book go back, and which come instead."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import NamedTuple

from firmware_py.bench.plates.plate_shelf import PlateShelf, Side, minute
from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.refusal import NotNow, Refused, WrongInput, shown
from firmware_py.facts.acts.run import CorrectPlate
from firmware_py.facts.events.box import BoxDescribed
from firmware_py.facts.events.run import PlateCorrected
from firmware_py.journal.life_record import PlateRecord

WHERE = "correct"
# As the book names its plates: the box, and the number in it. A box's name has no stroke.
_LIKE_THE_BOOKS = re.compile(r"[^/]+/\d+")


class Correction(NamedTuple):
    """What is written: the names, the plates that go back and that come, and what these are, where known."""

    named: PlateCorrected
    going: list[PlateRecord]
    coming: list[PlateRecord]
    kind: BoxDescribed | None


def correction(act: CorrectPlate, lane: Lane, in_run: Sequence[PlateRecord], shelf: PlateShelf) -> Correction:
    """Return what a correction comes to; ``in_run`` are the plates of the book that the run has now.

    Raises Refused where it can not be meant, or a plate can not go back to where it was.
    """
    _require_correctable(lane)
    run = lane.record
    said = (act.plate, *(run.plates[1:] if act.others is None else act.others))
    found = [_found(words, in_run, run.plates, shelf) for words in said]
    known = [plate for plate in found if plate is not None]
    names = [plate.name if plate is not None else words for plate, words in zip(found, said, strict=True)]
    box = act.box or (found[0].boxed.box if found[0] is not None else "")
    if not box and names[0] == run.plate:
        box = run.named.box
    named = PlateCorrected(plate=names[0], others=tuple(names[1:]), box=box)
    _require_another(named, lane)
    coming = [plate for plate in known if plate not in in_run]
    going = [plate for plate in in_run if plate not in known]
    for plate in going:
        _require_goes_back(plate, coming, shelf)
    from_box = shelf.box_of(coming[0]) if coming and run.state != "ended" else None
    return Correction(named, going, coming, from_box.kind if from_box is not None else None)


def _require_correctable(lane: Lane) -> None:
    run = lane.record
    if run.routine.sheet != "plate":
        raise WrongInput(f"{run.plate} is paper", where=WHERE, allowed="a run of plates")
    if lane.away is not None:
        words = f"cannot correct a plate while tray {lane.number} is interrupted"
        raise NotNow(words, where=WHERE, next="take the run up, then correct it")


def _found(
    words: str, in_run: Sequence[PlateRecord], names: Sequence[str], shelf: PlateShelf
) -> PlateRecord | None:
    """Return the plate of the book that is meant, None for a name of the person's own."""
    here = next((plate for plate in in_run if plate.name == words), None)
    if here is not None or words in names:
        return here
    plate = shelf.find_plate(words)
    if plate is None and _LIKE_THE_BOOKS.fullmatch(words.strip()):
        allowed = "a plate of the book, a side that holds one, or a name without a stroke"
        raise WrongInput(f"the book has no plate {shown(words)}", where=WHERE, allowed=allowed)
    return plate


def _require_another(named: PlateCorrected, lane: Lane) -> None:
    run = lane.record
    right = (named.plate, *named.others)
    if len(set(right)) < len(right):
        raise WrongInput("a plate is named twice", where=WHERE, allowed="each plate once")
    if len(right) != len(run.plates):
        allowed = f"{len(run.plates)}: as many as the run was opened with"
        raise WrongInput(f"{len(right)} plates named", where=WHERE, allowed=allowed)
    if right == run.plates and named.box == run.named.box:
        words = f"the run in tray {lane.number} has the plate {run.plate} already"
        raise WrongInput(words, where=WHERE, allowed="another plate")


def _require_goes_back(plate: PlateRecord, coming: Sequence[PlateRecord], shelf: PlateShelf) -> None:
    """Refuse where the wrong plate broke since, or where its side was taken out of use or filled since."""
    if plate.stage == "broken":
        what = f"{plate.name} is broken since {minute(plate.since_utc)}: it cannot go back"
        raise Refused(what, where=WHERE, allowed="a plate that is whole")
    loading = plate.before.loading if plate.before is not None else None
    if loading is None or loading.left_utc:
        return
    holder = shelf.holders.get(loading.holder_id)
    if holder is None:
        words = f"{plate.name} goes back to side {loading.name}, whose holder is not in use"
        raise NotNow(words, where=WHERE, next=f"enter holder {loading.holder} and load the plate by hand")
    held = shelf.plate_in(Side(holder, loading.side))
    if held is not None and held not in coming:
        words = f"{plate.name} goes back to side {loading.name}, which holds {held.name}"
        raise NotNow(words, where=WHERE, next=f"unload side {loading.name}, then correct the run")
