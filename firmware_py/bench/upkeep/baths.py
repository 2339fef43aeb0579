"""The baths that stand on the bench: made, named for the steps of runs, used, judged and thrown away."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.upkeep.bath_choice import baths_for
from firmware_py.bench.upkeep.bath_judgement import BathJudgement, judge, read_day
from firmware_py.craft.formula import Formula
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.events import bath as be
from firmware_py.journal.bath_record import BathRecord

Formulas = Callable[[], Mapping[str, Formula]]
MOST_BATHS = 40


@dataclass(frozen=True, slots=True)
class BathRule:
    """Whether a run is warned of a bath that is used up or too old, or refused."""

    exhausted: Literal["warn", "refuse"] = "warn"


class Baths:
    """Every bath that is not thrown away, by its id; ``known`` are the ids of those that ever stood here."""

    def __init__(self, rule: BathRule, formulas: Formulas, scribe: Scribe, notices: Notices) -> None:
        self.standing: dict[str, BathRecord] = {}
        self.known: list[str] = []
        self.formulas = formulas
        self._rule = rule
        self._scribe = scribe
        self._notices = notices

    def resume(self, bath: BathRecord) -> None:
        """Take up a bath that an earlier controller left standing."""
        self._stand(bath)

    def called(self, words: str) -> BathRecord:
        """Return the bath of that name or id. Raises Refused with the names there are."""
        wanted = words.strip().casefold()
        for bath in self.standing.values():
            if wanted in {bath.name.casefold(), bath.subject}:
                return bath
        names = ", ".join(bath.name for bath in self.standing.values())
        raise Refused(f"no bath is called {words[:60]!r}", where="baths", allowed=names or "make one first")

    def judged(self, bath: BathRecord, plate_cm2: float | None = None) -> BathJudgement:
        """Return what to think of a bath now."""
        return judge(bath, self._now(), plate_cm2)

    # --- what a person does ---

    def make(self, act: ua.MakeBath, *, rehearsal: bool) -> None:
        """Make a bath by a formula of the shelf."""
        if len(self.standing) >= MOST_BATHS:
            raise Refused(f"{MOST_BATHS} baths stand here", where="make a bath", allowed="discard one first")
        formulas = self.formulas()
        formula = formulas.get(act.formula)
        if formula is None:
            raise Refused(
                f"there is no formula {act.formula[:60]!r}", where="make a bath", allowed=", ".join(formulas)
            )
        now = self._now()
        made_utc = read_day(act.made, now, where="made") if act.made else now.isoformat(timespec="seconds")
        made = _made(formula, act, self._name_for(act.name, formula.name), made_utc, rehearsal=rehearsal)
        self._stand(self._scribe.begin(made, BathRecord.begin))

    def discard(self, act: ua.DiscardBath, lanes: Iterable[Lane]) -> None:
        """Throw a bath away; refused while a plate lies in it."""
        bath = self.called(act.bath)
        for lane in lanes:
            here = lane.here
            named = lane.record.baths.get(here.step) if here is not None else None
            if named is not None and named.bath_id == bath.subject:
                raise Refused(
                    f"plate {lane.record.plate!r} lies in {bath.name}", where="discard", allowed="afterwards"
                )
        self._scribe.follow(bath, be.BathDiscarded(why=act.why))
        del self.standing[bath.subject]
        self._notices.clear("bath used up", about=bath.subject)

    def date(self, act: ua.DateBath) -> None:
        """Put right when a bath was made."""
        bath = self.called(act.bath)
        self._scribe.follow(bath, be.BathDated(made_utc=read_day(act.made, self._now(), where="made")))

    def see_clearing(self, act: ua.SeeClearing) -> None:
        """Write down in what time a plate cleared."""
        bath = self.called(act.bath)
        if bath.made.kind != "fixer":
            raise Refused(f"{bath.name} is a {bath.made.kind}", where="clearing", allowed="a fixer")
        self._scribe.follow(bath, be.BathClearingSeen(clearing_s=act.clearing_s, fresh=act.fresh))

    def works_at(self, bath: BathRecord, set_degC: float) -> None:
        """Remember the temperature [degC] that the heater shall give a bath."""
        if bath.works_at_degC != set_degC:
            self._scribe.follow(bath, be.BathWarmthSet(works_at_degC=set_degC))

    # --- the rule for runs ---

    def require_trusted(self, lane: Lane) -> None:
        """Refuse to begin a run in baths that are used up or too old, where the setting says so."""
        if self._rule.exhausted != "refuse":
            return
        for bath in baths_for(lane, self.standing):
            self.require_good(bath)

    def require_good(self, bath: BathRecord) -> None:
        """Refuse a bath that is used up or too old, where the setting says so."""
        against = self.judged(bath).against
        if against and self._rule.exhausted == "refuse":
            raise Refused(
                f"bath {bath.name!r} is {against}",
                where="baths",
                allowed='a fresh one; or the setting `exhausted = "warn"` in [baths]',
            )

    def warn(self, lanes: Iterable[Lane]) -> None:
        """Say which baths of the runs on the bench are not to be trusted."""
        wanted = {bath.subject for lane in lanes for bath in baths_for(lane, self.standing)}
        for bath in self.standing.values():
            against = self.judged(bath).against if bath.subject in wanted else ""
            if against:
                words = f"Bath {bath.name} is {against}; mix a new one"
                self._notices.say("bath used up", words, self._scribe.clock.now_s(), about=bath.subject)
            else:
                self._notices.clear("bath used up", about=bath.subject)

    def _stand(self, bath: BathRecord) -> None:
        self.standing[bath.subject] = bath
        self.known.append(bath.subject)

    def _name_for(self, wanted: str, formula: str) -> str:
        taken = {bath.name.casefold() for bath in self.standing.values()}
        name = " ".join(wanted.split())
        if name:
            if name.casefold() in taken:
                raise Refused(f"a bath is called {name!r} already", where="name", allowed="another name")
            return name
        numbers = range(1, MOST_BATHS + 2)
        return next(f"{formula} {n}" for n in numbers if f"{formula} {n}".casefold() not in taken)

    def _now(self) -> datetime:
        return self._scribe.clock.utc()


def _made(formula: Formula, act: ua.MakeBath, name: str, made_utc: str, *, rehearsal: bool) -> be.BathMade:
    capacity, keeping, development = formula.capacity, formula.keeping, formula.development
    own = "as the person said"
    return be.BathMade(
        name=name,
        formula=formula.name,
        title=formula.title,
        kind=formula.kind,
        volume_ml=act.volume_ml,
        made_utc=made_utc,
        rehearsal=rehearsal,
        cm2_per_l=act.cm2_per_l or (capacity.cm2_per_l if capacity else None),
        capacity_source=own if act.cm2_per_l else (capacity.source if capacity else ""),
        keeps_s=act.keeps_s or (keeping.mixed_s if keeping else None),
        keeping_source=own if act.keeps_s else (keeping.source if keeping else ""),
        longer_percent=capacity.longer_percent if capacity else None,
        longer_every_cm2_per_l=capacity.longer_every_cm2_per_l if capacity else None,
        fresh_clearing_s=act.fresh_clearing_s,
        works_at_degC=development.reference_degC if development else None,
    )
