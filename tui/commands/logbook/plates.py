"""``embertray logbook boxes|holders|plates``: what is there, and the acts that change it."""

from __future__ import annotations

import argparse
from collections.abc import Callable

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.craft.units import read_number
from firmware_py.facts.acts.plate import (
    BROKEN_GLASS,
    AdvancePlate,
    AnyPlateAct,
    BreakPlate,
    DescribeBox,
    EnterBox,
    EnterHolder,
    FilePlate,
    FinishBox,
    LoadPlate,
    MarkExposed,
    NotePlate,
    SetHolderAside,
    TakeBackExposure,
    UnloadPlate,
)
from firmware_py.journal.box_rows import BoxRow, boxes, holders
from firmware_py.journal.life_rows import (
    PlateRow,
    count_by_stage,
    newest_plates,
    plate_called,
    plates_in_holders,
)
from firmware_py.journal.reading import refusing
from tui.commands.logbook.book import book_reader, fitted, say
from tui.commands.logbook.plate_acts import do_act

# 79 columns with a space between.
_PLATE_WIDTHS = (14, 10, 16, 5, 8, 21)


def tell_boxes(args: argparse.Namespace) -> int:
    """Enter, put right or finish a box; then tell the boxes in use."""
    index = read_number(args.index, where="--index", low=1e-3, high=1e4) if args.index else None
    said = {
        "size": args.size,
        "emulsion": args.emulsion,
        "sensitivity": args.sees,
        "speed_index": index,
        "batch": args.batch,
        "opened": _day(args.opened),
    }
    if args.enter is not None:
        do_act(args, EnterBox(name=args.enter, plates=args.plates, **said))
    elif args.put_right is not None:
        do_act(args, DescribeBox(box=args.put_right, **said))
    elif args.finish is not None:
        do_act(args, FinishBox(box=args.finish, why=args.why))
    with book_reader(args) as reader, refusing(reader.path):
        rows, counts = boxes(reader.connection), count_by_stage(reader.connection)
    told = [{**row._asdict(), "plates": counts.get(row.box_id, {})} for row in rows]
    say(args, {"boxes": told}, [_box_line(row, counts.get(row.box_id, {})) for row in rows] or ["No boxes."])
    return 0


def _day(text: str | None) -> str | None:
    """Return a day as ISO text, from "yesterday" or "12 March" too. Raises Refused."""
    if text is None:
        return None
    from firmware_py.craft.dates import read_date
    from firmware_py.service.here import now_here

    return read_date(text, now=now_here(), where="--opened").isoformat()


def tell_holders(args: argparse.Namespace) -> int:
    """Enter a holder or set one aside; then tell the holders in use and what their sides hold."""
    if args.enter is not None:
        sides = tuple(side.strip() for side in args.sides.split(","))
        do_act(args, EnterHolder(name=args.enter, sides=sides, size=args.size))
    elif args.set_aside is not None:
        do_act(args, SetHolderAside(holder=args.set_aside, why=args.why))
    with book_reader(args) as reader, refusing(reader.path):
        rows = holders(reader.connection)
        held = {(row.holder_id, row.side): row for row in plates_in_holders(reader.connection)}
    told, lines = [], []
    for row in rows:
        names = msgspec.json.decode(row.sides, type=list[str])
        pairs = [(row.name + side, held.get((row.holder_id, side))) for side in names]
        told.append({**row._asdict(), "sides": [_side_value(*side) for side in pairs]})
        lines += [_side_line(*side) for side in pairs]
    say(args, {"holders": told}, lines or ["No holders."])
    return 0


def tell_plates(args: argparse.Namespace) -> int:
    """Move one plate and tell it; or tell plates, newest first."""
    for name, act in _ACTS.items():
        named = getattr(args, name)
        if named is not None:
            do_act(args, act(named, args))
            with book_reader(args) as reader, refusing(reader.path):
                row = plate_called(reader.connection, named)
            caution = [f"{BROKEN_GLASS}."] if name == "broken" else []
            say(args, {"plate": row._asdict(), "caution": caution}, [_plate_line(row), *caution])
            return 0
    with book_reader(args) as reader, refusing(reader.path):
        rows = newest_plates(reader.connection, args.limit, box=args.box, stage=args.stage)
    say(
        args,
        {"plates": [row._asdict() for row in rows]},
        [_plate_line(row) for row in rows] or ["No plates."],
    )
    return 0


def _remark(plate: str, args: argparse.Namespace) -> NotePlate:
    if not args.why:
        raise Refused("no words", where="--remark", allowed="--why with the remark")
    return NotePlate(plate=plate, text=args.why)


_ACTS: dict[str, Callable[[str, argparse.Namespace], AnyPlateAct]] = {
    "load": lambda side, args: LoadPlate(side=side, plate=args.plate, box=args.box),
    "unload": lambda side, args: UnloadPlate(side=side, why=args.why),
    "exposed": lambda side, _: MarkExposed(side=side),
    "not_exposed": lambda plate, _: TakeBackExposure(plate=plate),
    "fixed": lambda plate, _: AdvancePlate(plate=plate, to="fixed"),
    "washed": lambda plate, _: AdvancePlate(plate=plate, to="washed"),
    "dry": lambda plate, _: AdvancePlate(plate=plate, to="dry"),
    "file": lambda plate, args: FilePlate(plate=plate, place=args.at),
    "broken": lambda plate, args: BreakPlate(plate=plate, how=args.why),
    "remark": _remark,
}


def _box_line(row: BoxRow, counts: dict[str, int]) -> str:
    facts = (
        row.size,
        row.emulsion,
        f"sees {row.sensitivity}" if row.sensitivity else "",
        f"index {row.speed_index:g}" if row.speed_index is not None else "",
        row.batch,
        f"opened {row.opened_utc[:10]}" if row.opened_utc else "",
        ", ".join(f"{count} {stage}" for stage, count in counts.items()),
    )
    return f"{row.name}: {'; '.join(fact for fact in facts if fact)}"


def _side_value(name: str, row: PlateRow | None) -> dict[str, object]:
    return {"side": name, "plate": row.name if row else None, "stage": row.stage if row else None}


def _side_line(name: str, row: PlateRow | None) -> str:
    return f"{name}: {row.name}, {row.stage}" if row else f"{name}: empty"


def _plate_line(row: PlateRow) -> str:
    side = f"{row.holder}{row.side}" if row.holder and not row.left_utc else ""
    noted = "noted" if row.exposure else ""
    since = row.since_utc[:16].replace("T", " ")
    cells = [row.name, row.stage, since, side, noted, row.filed or row.broken]
    return " ".join(map(fitted, cells, _PLATE_WIDTHS)).rstrip()
