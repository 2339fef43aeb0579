"""What is kept in order on the bench besides runs and prints: baths, plates, safelight, heat, probes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Protocol

from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.runs import Runs
from firmware_py.bench.upkeep.bath_choice import fits
from firmware_py.bench.upkeep.bath_use import BathUse
from firmware_py.bench.upkeep.baths import BathRule, Baths
from firmware_py.bench.upkeep.plate_light import LightOnPlates, SafelightTest
from firmware_py.bench.upkeep.plates import PlateRule, describe
from firmware_py.bench.warmth.heat_facts import JACKET, ROOM, HeatRule
from firmware_py.bench.warmth.heater import Heater
from firmware_py.bench.warmth.probes import ProbeFacts, Probes
from firmware_py.bench.warmth.thermometers import Thermometers
from firmware_py.craft.formula import Formula
from firmware_py.craft.plate_sizes import read_plate_size
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Routine
from firmware_py.data.formulary import shipped_formulas
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.acts.run import OpenRun
from firmware_py.facts.events.box import BoxDescribed


class Room(Protocol):
    """The safelight of the bench."""

    def safelight_is_on(self) -> bool | None:
        """Return whether the safelight is on; None on a bench without one."""
        ...

    def put_safelight_out(self, why: str) -> None:
        """Switch the safelight off."""
        ...


@dataclass(frozen=True, slots=True)
class UpkeepPlan:
    """What the settings say of baths, plates, safelight and heat; ``heat`` None on a bench without a heater.

    ``formulas`` may take a moment when it is first called.
    """

    formulas: Callable[[], Mapping[str, Formula]] = shipped_formulas
    baths: BathRule = field(default_factory=BathRule)
    plates: PlateRule = field(default_factory=PlateRule)
    safelight_tests: tuple[SafelightTest, ...] = ()
    heat: HeatRule | None = None
    probes: Mapping[str, ProbeFacts] = field(default_factory=dict)


class Upkeep:
    """The baths, the light on the plates and the heater, and the acts that concern them."""

    def __init__(
        self,
        plan: UpkeepPlan,
        *,
        rehearsal: bool,
        runs: Runs,
        thermometers: Thermometers,
        scribe: Scribe,
        notices: Notices,
        room: Room,
    ) -> None:
        self.plan = plan
        self._formulas: Mapping[str, Formula] | None = None
        self.baths = Baths(plan.baths, self.read_formulas, scribe, notices)
        self.bath_use = BathUse(self.baths, scribe, notices)
        self.light = LightOnPlates(
            plan.safelight_tests,
            scribe,
            notices,
            is_on=room.safelight_is_on,
            switch_off=room.put_safelight_out,
        )
        self.heater = Heater(plan.heat, scribe, notices) if plan.heat is not None else None
        self.probes = Probes(thermometers.trays, plan.probes, scribe, notices)
        self._thermometers = thermometers
        self._rehearsal = rehearsal
        self._runs = runs
        self._scribe = scribe

    @property
    def known_formulas(self) -> Mapping[str, Formula]:
        """Get the formulas, as far as they are read already."""
        return self._formulas or {}

    def read_formulas(self) -> Mapping[str, Formula]:
        """Return the formulas; the first time that takes a moment, unless the plan has read them already."""
        if self._formulas is None:
            self._formulas = self.plan.formulas()
            self._scribe.revision += 1
        return self._formulas

    # --- what a person does ---

    def do(self, act: ua.AnyUpkeepAct) -> None:
        """Do what a person asks, or raise Refused and change nothing."""
        match act:
            case ua.MakeBath():
                self.baths.make(act, rehearsal=self._rehearsal)
            case ua.DiscardBath():
                self.baths.discard(act, self._runs.lanes.values())
            case ua.DateBath():
                self.baths.date(act)
            case ua.SeeClearing():
                self.baths.see_clearing(act)
            case ua.NameBath():
                self.bath_use.name(self._runs.lane(act.lane), act)
            case ua.DescribePlate():
                describe(self._runs.lane(act.lane), act, self.plan.plates, self._scribe)
            case ua.SetHeat():
                self._set_heat(act)
            case ua.StopHeat():
                self._the_heater().let_be("a person asked")
            case ua.CalibrateProbe():
                self.probes.calibrate(act)

    def check_opening(self, act: OpenRun, routine: Routine) -> None:
        """Refuse, before anything is changed, a run whose plate or baths can not be meant."""
        if act.size:
            read_plate_size(act.size, where="size")
        for name, called in act.baths:
            step = next((step for step in routine.steps if step.name == name), None)
            bath = self.baths.called(called)
            if step is None or not fits(step, bath):
                names = ", ".join(step.name for step in routine.steps if fits(step, bath))
                raise Refused(f"{bath.name} for {name[:60]!r}", where="open", allowed=names or "another bath")
            self.baths.require_good(bath)

    def opened(self, lane: Lane, act: OpenRun) -> None:
        """Take in that a run was opened: what its plate is, and the baths that were named for it."""
        if lane.record.routine.sheet == "plate":
            said = ua.DescribePlate(size=act.size, emulsion=act.emulsion, sensitivity=act.sensitivity)
            describe(lane, said, self.plan.plates, self._scribe)
        for name, called in act.baths:
            number = next(n for n, step in enumerate(lane.record.routine.steps) if step.name == name)
            self.bath_use.name(lane, ua.NameBath(bath=called, step=number))

    def corrected(self, lane: Lane, kind: BoxDescribed | None) -> None:
        """Take in what the right plate of a run is, where the run was opened with a wrong one."""
        if kind is not None:
            said = ua.DescribePlate(size=kind.size, emulsion=kind.emulsion, sensitivity=kind.sensitivity)
            describe(lane, said, self.plan.plates, self._scribe)

    def before_first_step(self, lane: Lane) -> None:
        """Refuse to begin a run in a bath that is used up, where the setting says so."""
        if not lane.record.steps:
            self.baths.require_trusted(lane)

    def _set_heat(self, act: ua.SetHeat) -> None:
        heater = self._the_heater()
        bath = self.baths.called(act.bath) if act.bath is not None else None
        set_degC = act.set_degC if act.set_degC is not None else (bath.works_at_degC if bath else None)
        if set_degC is None:
            where = bath.name if bath else "heater"
            raise Refused("no temperature is said or known", where=where, allowed="a temperature")
        heater.set(set_degC, bath.name if bath else "")
        if bath is not None:
            self.baths.works_at(bath, set_degC)

    def _the_heater(self) -> Heater:
        if self.heater is None:
            raise Refused("this bench has no heater", where="heater", allowed="one wired as [relay.heater]")
        return self.heater

    # --- what devices say ---

    def heard(self, now_s: float) -> None:
        """Take in that a probe has said something."""
        heater, places = self.heater, self._thermometers.places
        if heater is None:
            return
        jacket, room = places.reading(JACKET, now_s), places.reading(ROOM, now_s)
        others = [jacket] if jacket is not None and heater.rule.place != JACKET else []
        heater.heard(places.words.get(heater.rule.place), others, room.bath_degC if room else None)

    def relays_made_safe(self) -> None:
        """Take in that every relay fell to its safe state: no heat before a person sets it anew."""
        if self.heater is not None and self.heater.set_degC is not None:
            self.heater.let_be("every relay was made safe")

    # --- what follows from all that ---

    def settle(self) -> None:
        """Write down, name, count and put out whatever follows from what has just happened."""
        lanes = list(self._runs.lanes.values())
        self.bath_use.settle(lanes)
        self.light.settle(lanes)

    def next_due_s(self) -> float | None:
        """Return the next moment [boot s] at which `advance` has something to do."""
        moments = [self.light.next_due_s(self._runs.lanes.values())]
        moments.append(self.heater.next_due_s() if self.heater is not None else None)
        return min((m for m in moments if m is not None), default=None)

    def advance(self, now_s: float) -> None:
        """Do what has fallen due by now."""
        heater = self.heater
        if heater is not None:
            heater.advance(now_s)
            self._thermometers.is_heated = heater.set_degC is not None and not heater.stopped
        self.probes.advance(now_s)
        self.baths.warn(self._runs.lanes.values())
        self.settle()
