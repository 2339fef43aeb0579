"""Draws the book of plates as a view."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from firmware_py.bench.plates.plate_book import PlateBook
from firmware_py.bench.plates.plate_shelf import AT_REST, PlateShelf, Side
from firmware_py.bench.trays.lane import Lane
from firmware_py.facts.views.plates import BoxView, HolderView, LifeView, PlatesView, SideView
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.life_record import PlateRecord

# As many plates as are shown: the view goes to every screen with every change.
MOST_SHOWN = 48
_NOT_OUT = AT_REST | {"boxed"}

SafeTime = Callable[[str], float | None]


def show_plates(book: PlateBook, lanes: Iterable[Lane], safe_time_s: SafeTime) -> PlatesView:
    """Return the book of plates; ``safe_time_s`` gives an emulsion's safe time under the safelight [s].

    It is drawn anew only when the book or the runs have changed: little of what changes a bench's view does.
    """
    trays = {lane.record.run_id: lane.record.opened.tray for lane in lanes if lane.record.state != "ended"}
    key = (book.revision, tuple(trays.items()))
    if book.drawn is None or book.drawn[0] != key:
        book.drawn = (key, _drawn(book.shelf, trays, safe_time_s))
    return book.drawn[1]


def _drawn(shelf: PlateShelf, trays: Mapping[str, str], safe_time_s: SafeTime) -> PlatesView:
    out = [plate for plate in shelf.plates.values() if plate.stage not in _NOT_OUT or plate.run_id in trays]
    out.sort(key=lambda plate: (plate.since_utc, plate.subject))
    return PlatesView(
        boxes=tuple(_box(shelf, box, safe_time_s) for box in shelf.boxes.values()),
        holders=tuple(_holder(shelf, holder) for holder in shelf.holders.values()),
        plates=tuple(_plate(shelf, plate, trays.get(plate.run_id or "", "")) for plate in out[-MOST_SHOWN:]),
        more=max(0, len(out) - MOST_SHOWN),
    )


def _box(shelf: PlateShelf, box: BoxRecord, safe_time_s: SafeTime) -> BoxView:
    left, kind = shelf.left_in(box), box.kind
    of_box = (plate for plate in shelf.plates.values() if plate.boxed.box_id == box.subject)
    return BoxView(
        box_id=box.subject,
        name=box.name,
        size=kind.size,
        emulsion=kind.emulsion,
        sensitivity=kind.sensitivity,
        speed_index=kind.speed_index,
        batch=kind.batch,
        opened_utc=kind.opened_utc,
        left=len(left),
        next_plate=left[0].name if left else "",
        elsewhere=sum(plate.stage not in _NOT_OUT for plate in of_box),
        safe_s=safe_time_s(kind.emulsion),
    )


def _holder(shelf: PlateShelf, holder: HolderRecord) -> HolderView:
    return HolderView(
        holder_id=holder.subject,
        name=holder.name,
        size=holder.entered.size,
        sides=tuple(_side(shelf, Side(holder, side)) for side in holder.sides),
    )


def _side(shelf: PlateShelf, side: Side) -> SideView:
    plate, left = shelf.plate_in(side), shelf.emptied.get(side.key)
    if plate is None:
        since_utc = left.utc if left else ""
        return SideView(name=side.name, plate="", stage=None, since_utc=since_utc, noted=False)
    return SideView(
        name=side.name,
        plate=plate.name,
        stage=plate.stage,
        since_utc=plate.since_utc,
        noted=plate.exposure is not None,
    )


def _plate(shelf: PlateShelf, plate: PlateRecord, tray: str) -> LifeView:
    box = shelf.box_of(plate)
    return LifeView(
        plate_id=plate.subject,
        name=plate.name,
        box_id=plate.boxed.box_id,
        box=plate.boxed.box,
        stage=plate.stage,
        since_utc=plate.since_utc,
        side=plate.place.name if plate.place else "",
        tray=tray,
        sensitivity=box.kind.sensitivity if box else None,
        speed_index=box.kind.speed_index if box else None,
        exposure=plate.exposure,
    )
