"""A book of plates as a screen may see it: two holders, four plates on their way, two boxes; all invented."""

from __future__ import annotations

import msgspec

from firmware_py.facts.events.life import ExposureNoted
from firmware_py.facts.views.plates import BoxView, HolderView, LifeView, PlatesView, SideView
from tests.tui.sample_bench import bench, lane

NOTED = ExposureNoted(
    taken="2030-03-14T12:40+01:00",
    where="59.8N 5.2E",
    latitude_deg=59.8,
    longitude_deg=5.2,
    subject="mole at low water",
    sky="clear",
    stop="U.S. 16",
    f_number=16.0,
    time_s=1.0,
    remark="a little wind",
)


def box(name: str, left: int, **changes) -> BoxView:
    sample = BoxView(
        box_id=f"box {name}",
        name=name,
        size="English half plate",
        emulsion="home ripened",
        sensitivity="blue",
        speed_index=2.0,
        batch="coated 2 March",
        opened_utc="2030-03-10T09:00:00+00:00",
        left=left,
        next_plate=f"{name}/{13 - left}" if left else "",
        elsewhere=4,
        safe_s=300.0,
    )
    return msgspec.structs.replace(sample, **changes)


def plate(name: str, stage: str, side: str = "", **changes) -> LifeView:
    sample = LifeView(
        plate_id=f"plate {name}",
        name=name,
        box_id="box spring",
        box="spring",
        stage=stage,  # type: ignore[arg-type]
        since_utc="2030-03-13T17:05:00+00:00",
        side=side,
        tray="",
        sensitivity="blue",
        speed_index=2.0,
        exposure=None,
    )
    return msgspec.structs.replace(sample, **changes)


PLATES = (
    plate("spring/1", "exposed", "3A", exposure=NOTED),
    plate("spring/2", "exposed", "3B"),
    plate("spring/3", "loaded", "4A"),
    plate("spring/4", "developing", tray="tray 1"),
)


def side(name: str, **changes) -> SideView:
    held = next((one for one in PLATES if one.side == name), None)
    return SideView(
        name=name,
        plate=held.name if held else "",
        stage=held.stage if held else None,
        since_utc=held.since_utc if held else "2030-03-14T18:40:00+00:00",
        noted=bool(held and held.exposure),
    )


def holder(name: str) -> HolderView:
    return HolderView(
        holder_id=f"holder {name}", name=name, size="", sides=(side(f"{name}A"), side(f"{name}B"))
    )


BOOK = PlatesView(
    boxes=(box("spring", 9), box("pan 2", 0, sensitivity="panchromatic", speed_index=None, safe_s=None)),
    holders=(holder("3"), holder("4")),
    plates=PLATES,
)


def with_plates(book: PlatesView = BOOK, **changes):
    """A bench with a plate in its developer and this book of plates."""
    return bench(lane(), plates=book, **changes)
