"""Verdicts on plates: of runs on the bench, and of those that the book has been asked for."""

from __future__ import annotations

from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.runs import Runs
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.book import JudgePlate
from firmware_py.journal.judging import judged
from firmware_py.journal.run_record import RunRecord

MOST_REMEMBERED = 32


class Judging:
    """Writes verdicts. A run that is not on the bench must be remembered first, from the book."""

    def __init__(self, runs: Runs, scribe: Scribe) -> None:
        self._runs = runs
        self._scribe = scribe
        self._remembered: dict[str, RunRecord] = {}

    def knows(self, run_id: str) -> bool:
        """Return whether the run is at hand."""
        return self._record(run_id) is not None

    def remember(self, record: RunRecord) -> None:
        """Keep a run that the book told, unless it is at hand already and so may be further on."""
        if self.knows(record.run_id):
            return
        self._remembered[record.run_id] = record
        while len(self._remembered) > MOST_REMEMBERED:
            del self._remembered[next(iter(self._remembered))]

    def judge(self, act: JudgePlate) -> None:
        """Write a verdict. Raises Refused, and writes nothing, where it can not be."""
        record = self._record(act.run)
        if record is None:
            raise Refused("there is no such run", where=f"run {act.run[-8:]}", allowed="one of the book's")
        self._scribe.write(record, judged(act.verdict, act.plate or record.plate))

    def _record(self, run_id: str) -> RunRecord | None:
        lane = self._runs.lane_of_run(run_id)
        return lane.record if lane is not None else self._remembered.get(run_id)
