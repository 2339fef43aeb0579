"""What the plates of a run got beside what daylight called for, as far as their notes tell."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

import msgspec

from firmware_py.craft.given import Against
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events.life import ExposureNoted
from firmware_py.journal.beside_daylight import beside_daylight
from firmware_py.journal.life_rows import PlateRow, plates_of_run

_decode = msgspec.json.Decoder(ExposureNoted).decode


@dataclass(frozen=True, slots=True)
class Exposed:
    """What the book has noted of a plate's exposure, in which side, and how it stands beside daylight."""

    plate: str
    side: str
    noted: ExposureNoted
    against: Against | None


class Exposures:
    """Looks up exposures through a connection to the book."""

    def __init__(self, connection: sqlite3.Connection) -> None:
        self._connection = connection

    def exposed_stops(self, run_id: str, plate: str) -> float | None:
        """Return how much more a plate of a run got than daylight said [stops], None where nobody knows.

        Without any correction learned: so that it can be learned from.
        """
        against = self.against(run_id, plate)
        return None if against is None else against.more_stops

    def against(self, run_id: str, plate: str) -> Against | None:
        """Return a plate's exposure beside what daylight called for, None where its note tells too little."""
        rows = plates_of_run(self._connection, run_id)
        wanted = [row for row in rows if row.name.casefold() == plate.casefold()]
        if len(wanted) != 1 or wanted[0].exposure is None:
            return None
        return self._against(wanted[0], _decode(wanted[0].exposure))

    def of_run(self, run_id: str) -> list[Exposed]:
        """Return what is noted of the exposures of a run's plates."""
        rows = [row for row in plates_of_run(self._connection, run_id) if row.exposure is not None]
        noted = [_decode(row.exposure or "") for row in rows]
        return [
            Exposed(row.name, f"{row.holder or ''}{row.side or ''}", note, self._against(row, note))
            for row, note in zip(rows, noted, strict=True)
        ]

    def _against(self, row: PlateRow, noted: ExposureNoted) -> Against | None:
        query = "SELECT sensitivity, speed_index FROM box WHERE box_id = ?"
        box = self._connection.execute(query, (row.box_id,)).fetchone()
        if box is None:
            return None
        try:
            return beside_daylight(noted, *box)
        except Refused:  # something nobody said, the sun had set, or nothing that daylight reckons with
            return None
