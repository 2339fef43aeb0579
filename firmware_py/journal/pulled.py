"""Where earlier plates of a box were pulled out of a developer, asked of the journal file itself."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from firmware_py.facts.events.run import RunOpened
from firmware_py.journal.reading import JournalReader, refusing
from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.rows import COLUMNS, Row, entry_of
from firmware_py.journal.run_record import RunRecord

# The newest plates of a box tell most, and an old box need not be read to its beginning.
MOST = 200
_QUERY = (
    f"SELECT {', '.join('event.' + name for name in COLUMNS.split(', '))}, run.equivalent_s "  # noqa: S608 - constants
    "FROM run JOIN event ON event.subject = run.run_id AND event.number = 1 "
    "WHERE run.ended = 'pulled' AND run.equivalent_s IS NOT NULL AND run.rehearsal = ? "
    "AND json_extract(event.body, '$.box') = ? ORDER BY run.place DESC LIMIT ?"
)


class PulledPlates:
    """Asks the journal at ``path`` through a connection of its own, so that no writer waits for it."""

    def __init__(self, path: Path) -> None:
        self._path = path

    def run(self, run_id: str) -> RunRecord:
        """Return a run as the book has it. Raises `JournalRefused` where it has none such."""
        with JournalReader.open(self._path) as reader, refusing(self._path):
            entries = reader.read(run_id)
        if not entries:
            raise JournalRefused(
                "there is no such run", where=f"run {run_id[-8:]}", allowed="one of the book's"
            )
        return RunRecord.replay(entries)

    def pulled_at_s(self, box: str, developer: str, *, rehearsal: bool) -> list[float]:
        """Return the equivalent times [s] at which plates of ``box`` were pulled from ``developer``."""
        with JournalReader.open(self._path) as reader, refusing(self._path):
            return list(_found(reader, box, developer, rehearsal=rehearsal))


def _found(reader: JournalReader, box: str, developer: str, *, rehearsal: bool) -> Iterator[float]:
    for *columns, equivalent_s in reader.connection.execute(_QUERY, (rehearsal, box, MOST)):
        try:
            opened = entry_of(Row._make(columns)).event
        except JournalRefused:  # a damaged run says nothing; `verify` names it
            continue
        if isinstance(opened, RunOpened) and developer in _developers(opened):
            yield float(equivalent_s)


def _developers(opened: RunOpened) -> set[str]:
    return {step.bath for step in opened.routine.steps if step.development is not None}
