"""What a sheet says of one print: paper, lamp, strip, exposure, burns, sheets, verdicts and notes."""

from __future__ import annotations

from firmware_py.craft.saying import say_time
from firmware_py.journal.print_outcome import BurnOutcome, PrintOutcome, SheetOutcome
from firmware_py.report.sheets.page import Block, Column, Facts, Table, Words
from firmware_py.report.told import Fact, facts_of, lines_of, moment

_COLUMNS = (
    Column("Sheet", 1.3),
    Column("Ended", 1.2),
    Column("Wanted", 1, is_figure=True),
    Column("Planned on", 1.1, is_figure=True),
    Column("Measured on", 1.2, is_figure=True),
    Column("Full light", 1, is_figure=True),
    Column("Its baths", 1.5),
)


def print_blocks(number: int, made: PrintOutcome) -> tuple[Block, ...]:
    """Return the blocks that tell the ``number``-th print of a run."""
    grade = f", grade {made.grade}" if made.grade else ""
    facts = Facts(f"Print {number}: {made.paper}{grade}{' (REHEARSAL)' * made.rehearsal}", _facts(made))
    blocks: list[Block] = [facts]
    if made.sheets:
        blocks.append(Table("", _COLUMNS, tuple(_row(sheet) for sheet in made.sheets)))
    notes = tuple(line for note in made.notes for line in lines_of(note))
    return (*blocks, Words("", tuple(f"Note: {note}" for note in notes))) if notes else tuple(blocks)


def _facts(made: PrintOutcome) -> tuple[Fact, ...]:
    base = f"{made.base_s:.2f} s (from {made.base_from})" if made.base_s is not None else None
    log_range = f"{made.paper_log_range:.2f}" if made.paper_log_range is not None else None
    speed = f"{made.paper_speed:g}" if made.paper_speed is not None else None
    verdicts = [("Verdict", verdict) for verdict in made.verdicts]
    return facts_of(
        [
            ("Opened", moment(made.opened_utc)),
            ("Finished", f"{made.prints}"),
            ("Base", base),
            ("Log range", log_range),
            ("Speed", speed),
            ("Lamp", _lamp(made)),
            ("Strip", _strip(made)),
            *(("Burn", _burn(burn)) for burn in made.burns),
            *verdicts,
            ("Print id", made.print_id),
        ]
    )


def _row(sheet: SheetOutcome) -> tuple[str, ...]:
    measured = f"{sheet.measured_s:.3f} s" + (f" ± {sheet.doubt_s:.3f} s, estimated" if sheet.doubt_s else "")
    return (
        f"{sheet.sheet} {sheet.kind}",
        sheet.ended or "under the lamp",
        _seconds(sheet.wanted_s),
        _seconds(sheet.planned_s),
        measured,
        _seconds(sheet.effective_s),
        f"run …{sheet.run_id[-8:]}" if sheet.run_id else "",
    )


def _seconds(time_s: float | None) -> str:
    return "–" if time_s is None else f"{time_s:.3f} s"


def _burn(burn: BurnOutcome) -> str:
    extra = f" (+{say_time(burn.extra_s)})" if burn.extra_s is not None else ""
    return f"{burn.stops:+.2f} stops {burn.place}".rstrip() + extra


def _strip(made: PrintOutcome) -> str:
    if not made.patches:
        return ""
    given = ", ".join("?" if p.effective_s is None else f"{p.effective_s:.2f}" for p in made.patches)
    chosen = f"; patch {made.chosen_patch:g} chosen" if made.chosen_patch is not None else ""
    return f"{given} s by {made.method}{chosen}"


def _lamp(made: PrintOutcome) -> str:
    distance = f" at {made.distance_mm:g} mm" if made.distance_mm is not None else ""
    return f"{made.lamp}{distance}, lag {made.lag_s:.3f} s ± {made.lag_doubt_s:.3f} s"
