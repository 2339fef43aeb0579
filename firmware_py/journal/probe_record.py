"""The fold of a probe: how it was calibrated, made from its events alone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from firmware_py.craft.calibration import Calibration
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import heat as he
from firmware_py.facts.events import run as ev
from firmware_py.journal.subject_fold import first_of, replayed, require_next


@dataclass(slots=True)
class ProbeRecord:
    """One probe, folded from its entries in order. Impossible entries raise `Refused` and change nothing."""

    subject: str
    probe: str
    serial: str
    number: int = 1
    calibrated: he.ProbeCalibrated | None = None
    calibrated_utc: str = ""
    notes: list[str] = field(default_factory=list)

    @classmethod
    def begin(cls, entry: ev.Entry) -> ProbeRecord:
        """Return the probe that its first entry names."""
        met = first_of(entry, he.ProbeMet, "probe")
        return cls(entry.subject, met.probe, met.serial)

    @classmethod
    def replay(cls, entries: Iterable[ev.Entry]) -> ProbeRecord:
        """Return the probe that these entries, in order, amount to."""
        return replayed(cls.begin, entries, "probe")

    @property
    def calibration(self) -> Calibration | None:
        """Get the last calibration, None before the first."""
        last = self.calibrated
        return None if last is None else Calibration(last.offset_K, last.tolerance_K, last.reference_degC)

    def apply(self, entry: ev.Entry) -> None:
        """Take in the probe's next entry."""
        require_next(entry, self.subject, self.number, f"probe {self.probe}, entry {entry.number}")
        match entry.event:
            case he.ProbeCalibrated():
                self.calibrated, self.calibrated_utc = entry.event, entry.utc
            case ev.NoteWritten():
                self.notes.append(entry.event.text)
            case _:
                raise Refused(f"a probe cannot take {type(entry.event).__name__}", where=entry.subject)
        self.number = entry.number
