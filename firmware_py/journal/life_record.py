"""The fold of a plate's life: what it is and where it lies, made from its events alone."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import life as le
from firmware_py.facts.events import run as ev
from firmware_py.facts.events.event import Event
from firmware_py.journal.subject_fold import first_of, replayed, require_next

# Before a plate has met a bath; in the order of what baths do to it; and at rest.
UNDEVELOPED: frozenset[le.Stage] = frozenset({"boxed", "loaded", "exposed"})
ORDER: tuple[le.Reached, ...] = ("developing", "fixed", "washed", "dry")

_ALL: frozenset[le.Stage] = frozenset({*UNDEVELOPED, *ORDER, "filed", "broken"})
# The one table of what can happen when; `PlateAdvanced` and the place in a holder have a rule more.
_MAY_COME: Mapping[type[Event], frozenset[le.Stage]] = MappingProxyType(
    {
        le.PlateLoaded: frozenset({"boxed"}),
        le.PlateUnloaded: frozenset({"loaded", "exposed"}),
        le.PlateExposed: frozenset({"loaded"}),
        le.ExposureTakenBack: frozenset({"exposed"}),
        # A plate that was developed before anybody said it was exposed has been exposed all the same.
        le.ExposureNoted: _ALL - {"boxed", "loaded"},
        le.PlateLaidOut: _ALL - {"broken"},
        le.PlateMistaken: _ALL - {"broken"},
        le.PlateAdvanced: _ALL - {"dry", "filed", "broken"},
        le.PlateFiled: frozenset({"dry"}),
        le.PlateBroken: _ALL - {"broken"},
        ev.NoteWritten: _ALL,
    }
)


@dataclass(frozen=True, slots=True)
class InHolder:
    """The last loading of a plate: the side, since when, and until when (empty while it is still there)."""

    holder_id: str
    holder: str
    side: str
    loaded_utc: str
    left_utc: str = ""

    @property
    def name(self) -> str:
        """Get the side as it is called: 3B."""
        return self.holder + self.side


@dataclass(frozen=True, slots=True)
class Before:
    """What a plate was when it was taken out for its last run: to be so again if that was a mistake."""

    stage: le.Stage
    since_utc: str
    loading: InHolder | None
    exposed_utc: str
    exposure: le.ExposureNoted | None


@dataclass(slots=True)
class PlateRecord:
    """One plate, folded from its entries in order.

    ``since_utc`` is when it came to its stage; ``runs`` are the ids of those it was laid out for;
    ``before`` is what it was when it was laid out last, None where it was loaded again since.
    Impossible entries raise `Refused` with "cannot … while …" and change nothing.
    """

    subject: str
    boxed: le.PlateBoxed
    boxed_utc: str
    since_utc: str
    number: int = 1
    stage: le.Stage = "boxed"
    loading: InHolder | None = None
    exposed_utc: str = ""
    exposure: le.ExposureNoted | None = None
    runs: tuple[str, ...] = ()
    filed: str = ""
    broken: str = ""
    notes: tuple[str, ...] = ()
    before: Before | None = None

    @classmethod
    def begin(cls, entry: ev.Entry) -> PlateRecord:
        """Return the plate that its first entry puts into its box."""
        return cls(entry.subject, first_of(entry, le.PlateBoxed, "plate"), entry.utc, entry.utc)

    @classmethod
    def replay(cls, entries: Iterable[ev.Entry]) -> PlateRecord:
        """Return the plate that these entries, in order, amount to."""
        return replayed(cls.begin, entries, "plate")

    @property
    def name(self) -> str:
        """Get what the person calls it."""
        return self.boxed.name

    @property
    def state(self) -> Literal["open", "ended"]:
        """Get whether more can happen to it than remarks."""
        return "ended" if self.stage == "broken" else "open"

    @property
    def place(self) -> InHolder | None:
        """Get the side of the holder it lies in now, None outside."""
        return self.loading if self.loading is not None and not self.loading.left_utc else None

    @property
    def run_id(self) -> str | None:
        """Get the last run it was laid out for."""
        return self.runs[-1] if self.runs else None

    def apply(self, entry: ev.Entry) -> None:
        """Take in the plate's next entry."""
        where = f"plate {self.name}, entry {entry.number}"
        require_next(entry, self.subject, self.number, where)
        self._check(entry.event, where)
        before = self.stage
        self._take(entry.event, entry.utc)
        self.number = entry.number
        if self.stage != before and not isinstance(entry.event, le.PlateMistaken):
            self.since_utc = entry.utc

    def _check(self, event: ev.AnyEvent, where: str) -> None:
        if self.stage not in _MAY_COME.get(type(event), frozenset()):
            raise Refused(f"cannot take {type(event).__name__} while {self.stage}", where=where)
        if isinstance(event, le.PlateUnloaded) and self.place is None:
            raise Refused("cannot unload it while it lies in no holder", where=where)
        if isinstance(event, le.PlateMistaken) and event.run_id != self.run_id:
            raise Refused("it was not laid out for that run last", where=where)
        if isinstance(event, le.PlateAdvanced) and not self.may_become(event.to):
            raise Refused(f"cannot become {event.to} while {self.stage}", where=where)
        if isinstance(event, le.ExposureNoted):
            _check_exposure(event, where)

    def may_become(self, to: le.Reached) -> bool:
        """Return whether that comes after what the plate is now."""
        if self.stage in UNDEVELOPED:
            return to == "developing"
        return self.stage in ORDER and ORDER.index(to) > ORDER.index(self.stage)

    def _take(self, event: ev.AnyEvent, utc: str) -> None:
        match event:
            case le.PlateLoaded():
                self.loading = InHolder(event.holder_id, event.holder, event.side, utc)
                self.stage, self.before = "loaded", None
            case le.PlateUnloaded() | le.PlateLaidOut() | le.PlateBroken():
                self._leave(event, utc)
            case le.PlateExposed():
                self.stage, self.exposed_utc = "exposed", utc
            case le.ExposureTakenBack():
                self.stage, self.exposed_utc, self.exposure = self._unexposed, "", None
            case le.ExposureNoted():
                self.exposure = event
            case le.PlateAdvanced():
                self._leave_holder(utc)
                self.stage = event.to
            case le.PlateMistaken():
                self._go_back()
            case le.PlateFiled():
                self.stage, self.filed = "filed", event.place
            case ev.NoteWritten():
                self.notes += (event.text,)
            case _:  # pragma: no cover - _check has refused it
                raise AssertionError(event)

    @property
    def _unexposed(self) -> le.Stage:
        return "loaded" if self.place is not None else "boxed"

    def _go_back(self) -> None:
        """Be again what it was before its last run; a note of its exposure written since is of this plate."""
        self.runs = self.runs[:-1]
        was, self.before = self.before, None
        if was is not None:
            self.stage, self.since_utc = was.stage, was.since_utc
            self.loading, self.exposed_utc = was.loading, was.exposed_utc
            self.exposure = self.exposure or was.exposure
            self.filed = self.filed if was.stage == "filed" else ""

    def _leave(self, event: le.PlateUnloaded | le.PlateLaidOut | le.PlateBroken, utc: str) -> None:
        if isinstance(event, le.PlateLaidOut):
            was = Before(self.stage, self.since_utc, self.loading, self.exposed_utc, self.exposure)
            self.before = was
        self._leave_holder(utc)
        if isinstance(event, le.PlateBroken):
            self.stage, self.broken = "broken", event.how
        elif self.stage == "loaded":
            self.stage = "boxed"
        if isinstance(event, le.PlateLaidOut):
            self.runs += (event.run_id,)

    def _leave_holder(self, utc: str) -> None:
        place = self.place
        if place is not None:
            self.loading = InHolder(place.holder_id, place.holder, place.side, place.loaded_utc, utc)


def _check_exposure(noted: le.ExposureNoted, where: str) -> None:
    if noted.time_s is not None and not noted.time_s > 0:
        raise Refused(f"an exposure of {noted.time_s:g} s", where=where, allowed="more than 0 s")
    if noted.f_number is not None and not noted.f_number > 0:
        raise Refused(f"f/{noted.f_number:g}", where=where, allowed="more than f/0")
    if not (noted.extension_factor >= 1 and noted.filter_factor >= 1):
        raise Refused("a factor below 1", where=where, allowed="1 or more")
