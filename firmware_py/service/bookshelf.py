"""Looks things up in the book beside its writer, for screens that ask."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from firmware_py.journal.book_target import book_target
from firmware_py.journal.box_advice import advice_of_box
from firmware_py.journal.exposed import Exposed, Exposures
from firmware_py.journal.outcome import outcome
from firmware_py.journal.reading import JournalReader, refusing
from firmware_py.journal.run_list import run_called, runs_found
from firmware_py.journal.run_rows import RunRow
from firmware_py.report.sheets.history import history_of
from firmware_py.report.sheets.page import Curve, CurvePoint
from firmware_py.service.book_questions import (
    Advised,
    AnyAnswer,
    AnyQuestion,
    AskAdvice,
    AskBookTarget,
    BookTargetTold,
    CurveMarkView,
    CurvePointView,
    CurveView,
    ExposureLine,
    FindRuns,
    OpenPage,
    PageOpened,
    RunLine,
    RunsFound,
)

# A terminal has fewer columns than this, whatever its width.
MOST_POINTS = 240
_READ = frozenset({"probe", "hand", "trace"})


class Bookshelf:
    """Answers questions from the journal at ``path``, each through a connection of its own, on any thread."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def answer(self, question: AnyQuestion) -> AnyAnswer:
        """Return what the book says. Raises `Refused`."""
        with JournalReader.open(self._path) as reader, refusing(self._path):
            match question:
                case FindRuns():
                    return _found(reader, question)
                case OpenPage():
                    return _page(reader, question.run)
                case AskAdvice():
                    return Advised(told=advice_of_box(reader.connection, question.box, question.developer))
                case AskBookTarget():
                    target = book_target(reader.connection, question.run)
                    return BookTargetTold(run=question.run, target=target)


def _found(reader: JournalReader, asked: FindRuns) -> RunsFound:
    rows = runs_found(reader.connection, asked.words, asked.limit + 1, after=asked.after)
    return RunsFound(runs=tuple(map(_line, rows[: asked.limit])), more=len(rows) > asked.limit)


def _line(row: RunRow) -> RunLine:
    return RunLine(**{name: getattr(row, name) for name in RunLine.__struct_fields__})


def _page(reader: JournalReader, run_id: str) -> PageOpened:
    history = history_of(reader.read(run_called(reader.connection, run_id).run_id))
    exposed = Exposures(reader.connection).of_run(history.record.run_id)
    return PageOpened(
        run=outcome(history.record),
        curves=tuple(map(_curve, history.curves())),
        exposures=tuple(map(_exposure, exposed)),
    )


def _exposure(exposed: Exposed) -> ExposureLine:
    against = exposed.against
    return ExposureLine(
        plate=exposed.plate,
        side=exposed.side,
        noted=exposed.noted,
        more_stops=against.more_stops if against else None,
        doubt_stops=against.doubt_stops if against else None,
    )


def _curve(curve: Curve) -> CurveView:
    return CurveView(
        title=curve.title.partition(":")[0],
        points=tuple(map(_point, thinned(curve.points, MOST_POINTS))),
        marks=tuple(CurveMarkView(number=m.number, elapsed_s=m.elapsed_s) for m in curve.marks),
        reference_degC=curve.reference_degC,
        target_s=curve.target_s,
    )


def _point(point: CurvePoint) -> CurvePointView:
    return CurvePointView(
        elapsed_s=point.elapsed_s,
        bath_degC=point.bath_degC,
        equivalent_s=point.equivalent_s,
        read=point.source in _READ,
    )


def thinned(points: Sequence[CurvePoint], most: int) -> list[CurvePoint]:
    """Return at most ``most`` (2 or more) of the points, evenly, the first and the last among them."""
    if len(points) <= most:
        return list(points)
    return [points[round(n * (len(points) - 1) / (most - 1))] for n in range(most)]
