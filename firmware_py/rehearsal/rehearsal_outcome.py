"""What came of a rehearsal, over all the controllers it had."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

import msgspec

from firmware_py.bench.bench import Bench
from firmware_py.craft.routine import SheetName
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.bath_rows import row_of_bath
from firmware_py.journal.outcome import outcome
from firmware_py.journal.print_outcome import print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal


@dataclass(slots=True)
class Known:
    """The ids of all that the controllers of a session had to do with, each once, in the order of opening."""

    sessions: list[str] = field(default_factory=list)
    runs: dict[str, None] = field(default_factory=dict)
    prints: dict[str, None] = field(default_factory=dict)
    baths: dict[str, None] = field(default_factory=dict)

    def remember(self, bench: Bench) -> None:
        """Take in what one controller's bench knew."""
        self.sessions.append(bench.scribe.session)
        self.runs |= dict.fromkeys(bench.runs.opened)
        self.prints |= dict.fromkeys(bench.lamp_side.printing.opened)
        self.baths |= dict.fromkeys(bench.upkeep.baths.known)

    def outcome(self, journal: Journal) -> dict[str, Any]:
        """Return what came of it, read back from the journal alone."""
        runs = [RunRecord.replay(journal.read(one)) for one in self.runs]
        prints = [print_outcome(PrintRecord.replay(journal.read(one))) for one in self.prints]
        baths = [row_of_bath(BathRecord.replay(journal.read(one))) for one in self.baths]
        return {
            "rehearsal": True,
            "session": self.sessions[-1],
            "sessions": self.sessions,
            "runs": _came_of(runs, "plate"),
            "paper_runs": _came_of(runs, "paper"),
            "prints": msgspec.to_builtins(prints),
            "baths": [bath._asdict() for bath in baths],
        }


def _came_of(runs: Iterable[RunRecord], sheet: SheetName) -> list[Any]:
    return [msgspec.to_builtins(outcome(run)) for run in runs if run.routine.sheet == sheet]
