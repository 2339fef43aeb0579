"""``embertray logbook exposures``: what plates got beside what daylight calls for, and tables of it."""

from __future__ import annotations

import argparse

import msgspec

from firmware_py.craft.given import Against
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.life import ExposureNoted
from firmware_py.journal.beside_daylight import beside_daylight
from firmware_py.journal.box_rows import BoxRow, boxes
from firmware_py.journal.copies import whole_or_not_at_all
from firmware_py.journal.life_rows import PlateRow, newest_plates, plates_in_holders
from firmware_py.journal.reading import refusing
from firmware_py.service.exposure_table import Hours, empty_table, read_table
from tui.commands.logbook.book import book_reader, say
from tui.commands.logbook.plate_acts import do_act
from tui.pages.plates.exposure_words import daylight_words, given_words, light_words, when_words

_decode = msgspec.json.Decoder(ExposureNoted).decode


def tell_exposures(args: argparse.Namespace) -> int:
    """Take in a table, write an empty one, or tell the exposures, newest first."""
    if args.table is not None:
        return _take_in(args)
    if args.template is not None:
        return _write_template(args)
    with book_reader(args) as reader, refusing(reader.path):
        rows = newest_plates(reader.connection, args.limit, box=args.box, exposed=True)
        kinds = {box.box_id: box for box in boxes(reader.connection, finished=True)}
    told = [_told(row, kinds.get(row.box_id)) for row in rows]
    lines = [line for value, lines in told for line in (*lines, "")][:-1]
    say(args, {"exposures": [value for value, _ in told]}, lines or ["No exposures."])
    return 0


def _take_in(args: argparse.Namespace) -> int:
    act = read_table(args.table, Hours(args.on, args.offset))
    do_act(args, act)
    count = len(act.lines)
    words = f"{count} exposure{'s are' if count > 1 else ' is'} in the book."
    say(args, {"exposures": count}, [words])
    return 0


def _write_template(args: argparse.Namespace) -> int:
    with book_reader(args) as reader, refusing(reader.path):
        held = plates_in_holders(reader.connection)
    sides = sorted((f"{row.holder}{row.side}", row.name) for row in held)
    with whole_or_not_at_all(args.template) as part:
        part.write_text(empty_table(sides), encoding="utf-8")
    say(args, {"file": str(args.template), "lines": len(sides)}, [f"{args.template}: {len(sides)} sides"])
    return 0


def _told(row: PlateRow, box: BoxRow | None) -> tuple[dict[str, object], list[str]]:
    noted = _decode(row.exposure or "{}")
    beside, why_not = _beside(noted, box)
    value = {"plate": row.name, "box": row.box, "stage": row.stage, **msgspec.structs.asdict(noted)}
    value["daylight"] = msgspec.to_builtins(beside) if beside else None
    value["why_not"] = why_not
    head = ", ".join(part for part in (row.name, when_words(noted), noted.where) if part)
    inside = (
        noted.subject,
        given_words(noted),
        light_words(noted),
        daylight_words(beside, why_not),
        noted.remark,
    )
    return value, [head, *(f"  {line}" for line in inside if line)]


def _beside(noted: ExposureNoted, box: BoxRow | None) -> tuple[Against | None, str]:
    try:
        return beside_daylight(noted, box.sensitivity if box else None, box.speed_index if box else None), ""
    except Refused as refused:
        return None, refused.what
