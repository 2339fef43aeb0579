"""A run as it went, point by point: the curve of each development, taken from the fold itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.run import Entry
from firmware_py.journal.run_record import RunRecord
from firmware_py.report.sheets.page import Curve, CurveMark, CurvePoint

_WORDS = {
    "hand": "hollow rings: read by hand",
    "trend": "crosses: no reading, the last trend carried on",
    "assumed": "crosses: no reading, the temperature assumed",
}
_ACROSS = (
    "Across: minutes by the clock; numbers: marks; dashed: wanted; grey: how sure the temperature is; "
    "dotted: the clock"
)


@dataclass(frozen=True, slots=True)
class History:
    """A run's record, and the points of each step in a developer by the place of that step in the record."""

    record: RunRecord
    points: dict[int, tuple[CurvePoint, ...]]

    def curves(self) -> tuple[Curve, ...]:
        """Return a curve for each development of which a temperature is known."""
        return tuple(self._curve(place, points) for place, points in self.points.items() if points)

    def _curve(self, place: int, points: tuple[CurvePoint, ...]) -> Curve:
        step = self.record.steps[place]
        plan = self.record.plan(step).development
        assert plan is not None
        marks = (
            CurveMark(number, mark.elapsed_s)
            for number, mark in enumerate(self.record.marks, 1)
            if mark.step == step.step
        )
        sources = dict.fromkeys(point.source for point in points)
        said = [_WORDS[source] for source in sources if source in _WORDS]
        return Curve(
            title=f"{self.record.plan(step).name}: temperature and equivalent time",
            caption="; ".join([_ACROSS, *said]),
            points=points,
            marks=tuple(marks),
            reference_degC=plan.reference_degC,
            target_s=plan.target_s,
        )


def history_of(entries: Sequence[Entry]) -> History:
    """Return the history that a run's entries amount to. Raises `Refused` where they are none."""
    if not entries:
        raise Refused("a run without entries")
    record = RunRecord.begin(entries[0])
    points: dict[int, list[CurvePoint]] = {}
    for entry in entries[1:]:
        before = len(record.samples)
        record.apply(entry)
        if len(record.samples) > before and record.rate(record.steps[-1]) is not None:
            points.setdefault(len(record.steps) - 1, []).append(_point(record))
    return History(record, {place: tuple(found) for place, found in points.items()})


def _point(record: RunRecord) -> CurvePoint:
    step, sample = record.steps[-1], record.samples[-1]
    return CurvePoint(
        elapsed_s=sample.run_s - step.started_s,
        bath_degC=sample.bath_degC,
        tolerance_K=sample.tolerance_K,
        equivalent_s=step.equivalent_s,
        source=sample.source,
    )
