"""The fold of a bath: what it is, made from its events alone, the same for the bench and the book."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Literal

from firmware_py.craft.exhaustion import lengthened_s
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import bath as be
from firmware_py.facts.events import run as ev
from firmware_py.journal.subject_fold import first_of, replayed, require_next

BathState = Literal["open", "ended"]


@dataclass(slots=True)
class BathRecord:
    """One bath, folded from its entries in order; ``done_cm2`` [cm²] is the area of plate it has done.

    ``clearings`` are the times [s] in which the plates of runs were seen to clear in it.

    Impossible entries raise `Refused` with "cannot … while …" and change nothing.
    """

    subject: str
    made: be.BathMade
    made_utc: str
    works_at_degC: float | None
    fresh_clearing_s: float | None
    number: int = 1
    state: BathState = "open"
    done_cm2: float = 0.0
    uses: list[be.BathUsed] = field(default_factory=list)
    clearing_s: float | None = None
    clearings: dict[str, float] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)
    discarded: str = ""
    _used: set[tuple[str, int]] = field(default_factory=set)

    @classmethod
    def begin(cls, entry: ev.Entry) -> BathRecord:
        """Return the bath that its first entry makes."""
        made = first_of(entry, be.BathMade, "bath")
        return cls(entry.subject, made, made.made_utc, made.works_at_degC, made.fresh_clearing_s)

    @classmethod
    def replay(cls, entries: Iterable[ev.Entry]) -> BathRecord:
        """Return the bath that these entries, in order, amount to."""
        return replayed(cls.begin, entries, "bath")

    @property
    def name(self) -> str:
        """Get the name the person knows it by."""
        return self.made.name

    @property
    def runs(self) -> int:
        """Get how many runs have used it."""
        return len({use.run_id for use in self.uses})

    def has_served(self, run_id: str, step: int) -> bool:
        """Return whether the plates of a run's step are already counted."""
        return (run_id, step) in self._used

    def times_longer(self) -> float:
        """Return how many times its fresh time the next development takes, by the rule of its formula.

        Raises Refused where that would be more than twice.
        """
        made = self.made
        if made.longer_percent is None or made.longer_every_cm2_per_l is None:
            return 1.0
        return lengthened_s(
            1.0,
            self.done_cm2,
            made.volume_ml,
            longer_percent=made.longer_percent,
            every_cm2_per_l=made.longer_every_cm2_per_l,
        )

    def apply(self, entry: ev.Entry) -> None:
        """Take in the bath's next entry."""
        self._check(entry)
        self.number = entry.number
        event = entry.event
        match event:
            case be.BathUsed():
                self.uses.append(event)
                self._used.add((event.run_id, event.step))
                self.done_cm2 += event.area_cm2
            case be.BathClearingSeen():
                self.clearing_s = event.clearing_s
                if event.run_id is not None:
                    self.clearings[event.run_id] = event.clearing_s
                self.fresh_clearing_s = event.clearing_s if event.fresh else self.fresh_clearing_s
            case be.BathDated():
                self.made_utc = event.made_utc
            case be.BathWarmthSet():
                self.works_at_degC = event.works_at_degC
            case be.BathDiscarded():
                self.state, self.discarded = "ended", event.why
            case ev.NoteWritten():
                self.notes.append(event.text)
            case _:  # pragma: no cover - _check has refused it
                raise AssertionError(event)

    def _check(self, entry: ev.Entry) -> None:
        where = f"bath {self.name}, entry {entry.number}"
        require_next(entry, self.subject, self.number, where)
        event = entry.event
        may_come = be.BathUsed | be.BathClearingSeen | be.BathDated | be.BathWarmthSet | be.BathDiscarded
        known = isinstance(event, may_come | ev.NoteWritten)
        if not known or (self.state == "ended" and not isinstance(event, ev.NoteWritten)):
            state = "discarded" if self.state == "ended" else "in use"
            raise Refused(f"cannot take {type(event).__name__} while {state}", where=where)
        if isinstance(event, be.BathUsed) and not event.area_cm2 >= 0:
            raise Refused(f"a use of {event.area_cm2:g} cm2", where=where, allowed="0 cm2 or more")
