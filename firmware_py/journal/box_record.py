"""The folds of a box of plates and of a holder: what they are, made from their events alone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import box as be
from firmware_py.facts.events import run as ev
from firmware_py.journal.subject_fold import first_of, replayed, require_next

ShelfState = Literal["open", "ended"]


@dataclass(slots=True)
class BoxRecord:
    """One box of plates; ``kind`` is what it is as it was last said.

    Impossible entries raise `Refused` with "cannot … while …" and change nothing.
    """

    subject: str
    entered: be.BoxEntered
    kind: be.BoxDescribed
    number: int = 1
    state: ShelfState = "open"
    finished: str = ""
    notes: tuple[str, ...] = ()

    @classmethod
    def begin(cls, entry: ev.Entry) -> BoxRecord:
        """Return the box that its first entry enters."""
        entered = first_of(entry, be.BoxEntered, "box")
        kind = be.BoxDescribed(
            size=entered.size,
            emulsion=entered.emulsion,
            sensitivity=entered.sensitivity,
            speed_index=entered.speed_index,
            batch=entered.batch,
            opened_utc=entered.opened_utc,
        )
        _check_index(kind, f"box {entered.name}")
        return cls(entry.subject, entered, kind)

    @classmethod
    def replay(cls, entries: Iterable[ev.Entry]) -> BoxRecord:
        """Return the box that these entries, in order, amount to."""
        return replayed(cls.begin, entries, "box")

    @property
    def name(self) -> str:
        """Get the name the person knows it by."""
        return self.entered.name

    def apply(self, entry: ev.Entry) -> None:
        """Take in the box's next entry."""
        where = f"box {self.name}, entry {entry.number}"
        require_next(entry, self.subject, self.number, where)
        event = entry.event
        if isinstance(event, be.BoxDescribed):
            _check_index(event, where)
        match event:
            case ev.NoteWritten():
                self.notes += (event.text,)
            case be.BoxDescribed() if self.state == "open":
                self.kind = event
            case be.BoxFinished() if self.state == "open":
                self.state, self.finished = "ended", event.why
            case _:
                state = "in use" if self.state == "open" else "finished"
                raise Refused(f"cannot take {type(event).__name__} while {state}", where=where)
        self.number = entry.number


@dataclass(slots=True)
class HolderRecord:
    """One holder; what its sides hold stands with the plates.

    Impossible entries raise `Refused` with "cannot … while …" and change nothing.
    """

    subject: str
    entered: be.HolderEntered
    number: int = 1
    state: ShelfState = "open"
    set_aside: str = ""
    notes: tuple[str, ...] = ()

    @classmethod
    def begin(cls, entry: ev.Entry) -> HolderRecord:
        """Return the holder that its first entry enters."""
        entered = first_of(entry, be.HolderEntered, "holder")
        if not entered.sides or len(set(entered.sides)) != len(entered.sides):
            where = f"holder {entered.name}"
            raise Refused("no sides, or two of one name", where=where, allowed="different sides")
        return cls(entry.subject, entered)

    @classmethod
    def replay(cls, entries: Iterable[ev.Entry]) -> HolderRecord:
        """Return the holder that these entries, in order, amount to."""
        return replayed(cls.begin, entries, "holder")

    @property
    def name(self) -> str:
        """Get the name the person knows it by."""
        return self.entered.name

    @property
    def sides(self) -> tuple[str, ...]:
        """Get the names of its sides, as A and B."""
        return self.entered.sides

    def apply(self, entry: ev.Entry) -> None:
        """Take in the holder's next entry."""
        where = f"holder {self.name}, entry {entry.number}"
        require_next(entry, self.subject, self.number, where)
        match entry.event:
            case ev.NoteWritten():
                self.notes += (entry.event.text,)
            case be.HolderSetAside() if self.state == "open":
                self.state, self.set_aside = "ended", entry.event.why
            case _:
                state = "in use" if self.state == "open" else "set aside"
                raise Refused(f"cannot take {type(entry.event).__name__} while {state}", where=where)
        self.number = entry.number


def _check_index(kind: be.BoxDescribed, where: str) -> None:
    if kind.speed_index is not None and not kind.speed_index > 0:
        raise Refused(f"a speed index of {kind.speed_index:g}", where=where, allowed="more than 0")
