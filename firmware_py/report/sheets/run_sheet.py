"""The sheet of a run: everything the book knows of one plate's way through the baths."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from firmware_py import __version__
from firmware_py.craft.coefficient import ratio_from_ln_per_K
from firmware_py.craft.routine import Step
from firmware_py.craft.saying import say_time
from firmware_py.facts.events.run import RunResumed
from firmware_py.journal.outcome import RunOutcome, StepOutcome, outcome, planned_s, trace
from firmware_py.journal.print_outcome import PrintOutcome
from firmware_py.journal.run_record import RunRecord
from firmware_py.report.run import about_facts, development_facts, verdict_facts
from firmware_py.report.sheets.history import History
from firmware_py.report.sheets.page import Block, Column, Facts, Page, Table, Words
from firmware_py.report.sheets.print_block import print_blocks
from firmware_py.report.told import Fact, clock, facts_of, lines_of, moment

# What nobody has told the book is written on the print by hand.
_EXPOSURE_BLANKS = ("Side", "When", "Subject", "Stop", "Time", "Remark")
_VERDICT_BLANKS = ("Density", "Contrast", "Fog, faults")


def run_page(
    history: History,
    prints: Sequence[PrintOutcome] = (),
    *,
    exposure: Sequence[tuple[str, str]] = (),
    verdict: Sequence[tuple[str, str]] = (),
) -> Page:
    """Return the sheet of a run and the prints made of it; what is not known of it has room to be written."""
    record = history.record
    came = outcome(record)
    plate = "Paper" if record.routine.sheet == "paper" else "Plate"
    blocks: list[Block] = [
        Facts("", _head(came, record)),
        _told("Exposure", exposure, _EXPOSURE_BLANKS if plate == "Plate" else ()),
        Facts("Development", _development(came, record)),
        *history.curves(),
        _steps(came, record),
        *_marks(came),
        *_remarks(record),
        *(block for number, made in enumerate(prints, 1) for block in print_blocks(number, made)),
        _told("Verdict", verdict or _verdict(came), _VERDICT_BLANKS if plate == "Plate" else ()),
        Facts("How sure", _doubts(came, record)),
    ]
    return Page(
        title=came.plate,
        under=f"{plate} through {record.routine.title} ({came.routine})",
        blocks=tuple(block for block in blocks if not isinstance(block, Facts) or block.facts),
        foot=f"run {came.run_id} · Embertray {__version__} · reckoned from the journal's events",
        banner="REHEARSAL" if came.rehearsal else "",
        banner_words="On the simulated bench: nothing here was real." if came.rehearsal else "",
    )


def _head(came: RunOutcome, record: RunRecord) -> tuple[Fact, ...]:
    return facts_of(
        [
            ("Opened", moment(came.opened_utc)),
            ("Tray", came.tray),
            ("Ended", came.ended or f"NOT YET: {came.state}"),
            ("With it", ", ".join(came.plates[1:])),
            *((fact.name, fact.value) for fact in about_facts(came)),
            ("Source", record.routine.source),
        ]
    )


def _told(title: str, told: Sequence[tuple[str, str]], blanks: Sequence[str]) -> Facts:
    if told:
        return Facts(title, facts_of(list(told)))
    return Facts(title, tuple(Fact(name, "") for name in blanks))


def _verdict(came: RunOutcome) -> list[tuple[str, str]]:
    """Return the last verdicts, each under the name of its plate where several lay in the tray."""
    told: list[tuple[str, str]] = []
    for plate, facts in verdict_facts(came):
        told += [("Plate", plate)] if len(came.plates) > 1 else []
        told += [(fact.name, fact.value) for fact in facts]
    return told


def _development(came: RunOutcome, record: RunRecord) -> tuple[Fact, ...]:
    return (*development_facts(came), *facts_of([("Rate", _rate(came, record))]))


def _rate(came: RunOutcome, record: RunRecord) -> str | None:
    if came.rate_per_K is None:
        return None
    ratio = f"{ratio_from_ln_per_K(came.rate_per_K):.2f} for 10 K"
    table = any(step.development and step.development.table for step in record.routine.steps)
    return f"{ratio} at the reference, by a table" if table else ratio


def _steps(came: RunOutcome, record: RunRecord) -> Table:
    done = {record.steps[place].step: step for place, step in enumerate(came.steps)}
    columns = (
        Column("Step", 1),
        Column("Bath", 2.8),
        Column("Planned", 0.8, is_figure=True),
        Column("Done", 0.8, is_figure=True),
        Column("Ended by", 1.1),
        Column("Seen", 2.2),
    )
    rows = (_step_row(step, done.get(n)) for n, step in enumerate(record.routine.steps))
    return Table("Steps, planned and done", columns, tuple(rows))


def _step_row(plan: Step, step: StepOutcome | None) -> tuple[str, ...]:
    planned = clock(planned_s(plan)) if planned_s(plan) else "–"
    if step is None:
        return (plan.name, plan.bath, planned, "not done", "", "")
    lasted = clock(step.elapsed_s) if step.elapsed_s is not None else "going on"
    return (step.name, step.bath, planned, lasted, step.ended or "", _seen(step))


def _seen(step: StepOutcome) -> str:
    seen = [f"clear after {clock(step.cleared_s)}"] if step.cleared_s is not None else []
    seen += [f"{step.waters} waters"] if step.waters > 1 else []
    seen += ["bath left its window"] if step.left_window else []
    seen += [f"time ± {say_time(step.doubt_s)}"] if step.doubt_s else []
    return "; ".join(seen)


def _marks(came: RunOutcome) -> list[Block]:
    if not came.marks:
        return [Words("Marks", ("none",))]
    columns = (
        Column("No.", 0.4, is_figure=True),
        Column("Seen", 3),
        Column("In step", 1.2),
        Column("Clock", 0.8, is_figure=True),
        Column("Equivalent", 0.9, is_figure=True),
    )
    rows = (
        (f"{n}", m.what, m.step, clock(m.elapsed_s), "–" if m.equivalent_s is None else clock(m.equivalent_s))
        for n, m in enumerate(came.marks, 1)
    )
    return [Table("Marks", columns, tuple(rows))]


def _remarks(record: RunRecord) -> list[Block]:
    notes = tuple(line for note in record.notes for line in lines_of(note))
    stopped = tuple(_resumed(event) for event in record.resumed)
    blocks: list[Block] = [Words("Notes", notes)] if notes else []
    return [*blocks, Words("Interruptions", stopped)] if stopped else blocks


def _resumed(event: RunResumed) -> str:
    away = f"{say_time(event.away_s)} ± {say_time(event.doubt_s)}"
    return f"taken up again after {away}, by {event.how}"


def _doubts(came: RunOutcome, record: RunRecord) -> tuple[Fact, ...]:
    times = (
        f"± {say_time(came.doubt_s)} after an interruption" if came.doubt_s else "boot clock, not interrupted"
    )
    return facts_of([("Times", times), ("Temperature", _temperature_doubt(came, record))])


def _temperature_doubt(came: RunOutcome, record: RunRecord) -> str | None:
    developed = record.development
    rate = record.rate(developed) if developed else None
    samples = trace(record, developed) if developed else []
    if rate is None or not samples or came.equivalent_s is None:
        return None
    worst = max(samples, key=lambda sample: sample.tolerance_K)
    by = ", ".join(f"{count} by {source}" for source, count in Counter(s.source for s in samples).items())
    said = f"± {worst.tolerance_K:g} K at worst ({by})"
    doubt_s = came.equivalent_doubt_s or 0.0
    share = f"{100 * doubt_s / came.equivalent_s:.1f} %, " if came.equivalent_s > 0 else ""
    return f"{said}, the rate's own doubt with it: equivalent time ± {share}{say_time(round(doubt_s))}"
