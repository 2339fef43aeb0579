"""A bench with baths, safelight and a heated jacket on a clock that only the test moves."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import UTC, datetime

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.effects import Play, Switch, Write
from firmware_py.bench.foot import FootRule
from firmware_py.bench.upkeep.plates import PlateRule
from firmware_py.bench.upkeep.upkeep import UpkeepPlan
from firmware_py.bench.warmth.heat_facts import HEATER, HeatRule
from firmware_py.craft.formula import Capacity, Formula, Keeping
from firmware_py.craft.simulation import QuantisedProbe, TrayOnJacket
from firmware_py.data.formulary import shipped_formulas
from firmware_py.devices.clock import SimulatedClock
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.acts import run as acts
from firmware_py.facts.events import run as ev
from firmware_py.switchboard.commands import RelayWiring
from firmware_py.switchboard.link import InProcessSwitchboard
from firmware_py.switchboard.reports import RelaySwitched, Report, SwitchboardLost
from tests.bench.bench_at_hand import PLAIN

EVENING = datetime(2026, 3, 14, 19, 30, tzinfo=UTC)
STAY_S = 5.0
PROBES = {"tray probe": "tray 1", "jacket probe": "jacket", "room probe": "room"}
HEAT = HeatRule(jacket_ml=3000.0)
Word = Callable[[Reading], Reading | NoReading]


def developer(**changes: object) -> Formula:
    """Return an invented developer that does 2000 cm² a litre, 10 % longer for every 400, for an hour."""
    plain = shipped_formulas()["metol-hydroquinone"]
    own = replace(
        plain,
        name="developer",
        capacity=Capacity(2000.0, "own", 10.0, 400.0),
        keeping=Keeping(None, 3600.0, "own"),
    )
    return replace(own, **changes)  # type: ignore[arg-type]


def fixer() -> Formula:
    """Return an invented fixer that does 1000 cm² a litre and keeps."""
    return replace(
        shipped_formulas()["plain-hypo"], name="hypo", capacity=Capacity(1000.0, "own"), keeping=None
    )


class UpkeepAtHand:
    """Carries out what the bench wants and lets water warm and cool, second by second."""

    def __init__(
        self,
        *,
        water_degC: float = 20.0,
        room_degC: float = 20.0,
        heater_W: float = 300.0,
        probes: Mapping[str, str] = PROBES,
        plan: UpkeepPlan | None = None,
        heat: HeatRule | None = HEAT,
    ) -> None:
        self.clock = SimulatedClock(start_utc=EVENING)
        self.entries: list[ev.Entry] = []
        self.tunes: list[str] = []
        self.throws: list[tuple[float, str, bool]] = []
        self.heater_W = heater_W
        self.is_stuck = False
        self.is_reading = True
        self.words: dict[str, Word] = {}
        self.water = TrayOnJacket(water_degC, water_degC, room_degC)
        self.noise = QuantisedProbe(seed=7)
        self._moved_s = self.clock.now_s()
        self.switchboard = InProcessSwitchboard(
            (
                RelayWiring("safelight", 17),
                RelayWiring("printing-lamp", 22, ceiling_s=60.0, continuous=False),
                RelayWiring(HEATER, 23, stay_limit_s=STAY_S),
            ),
            self.clock,
        )
        self.switchboard.listen(self._reported)
        plan = plan or UpkeepPlan(plates=PlateRule("English half plate", "home ripened", "blue"))
        formulas = {one.name: one for one in (developer(), fixer())}
        self.bench = Bench(
            BenchPlan(
                {"plain": PLAIN},
                dict(probes),
                relays=("safelight", "printing-lamp", HEATER),
                foot=FootRule(0.8, 10.0),
                upkeep=replace(plan, formulas=lambda: formulas, heat=heat),
            ),
            self.clock,
        )
        self.turn(reads=True)

    @property
    def upkeep(self):
        return self.bench.upkeep

    @property
    def heater(self):
        assert self.bench.upkeep.heater is not None
        return self.bench.upkeep.heater

    @property
    def lane(self):
        return self.bench.runs.lanes[1]

    @property
    def words_standing(self) -> str:
        return "\n".join(notice.words for notice in self.bench.notices.all())

    def events(self, kind: type[ev.AnyEvent]) -> list[ev.AnyEvent]:
        return [entry.event for entry in self.entries if isinstance(entry.event, kind)]

    def do(self, act: acts.AnyAct) -> None:
        try:
            self.bench.do(act)
        finally:
            self._carry_out()

    def make(
        self, formula: str = "developer", volume_ml: float = 500.0, name: str = "", **more: object
    ) -> None:
        self.do(ua.MakeBath(formula=formula, volume_ml=volume_ml, name=name, **more))  # type: ignore[arg-type]

    def open(self, plate: str = "Kvarnvik 3", **more: object) -> None:
        self.do(acts.OpenRun(plate=plate, routine="plain", **more))  # type: ignore[arg-type]

    def proceed(self, lane: int | None = None) -> None:
        self.do(acts.Proceed(lane=lane))

    def whole_run(self, plate: str, **more: object) -> None:
        """Take a plate through develop, rinse and fix."""
        self.open(plate, **more)
        self.proceed()
        self.pass_s(200.0)
        for seconds in (31.0, 301.0):
            self.pass_s(seconds)
            self.proceed()

    def safelight(self, *, on: bool) -> None:
        self.do(acts.SwitchSafelight(on=on))
        self.turn()

    def pass_s(self, seconds: float, step_s: float = 1.0) -> None:
        """Let time pass, stopping at every moment the bench or a relay wants."""
        end_s = self.clock.now_s() + seconds
        next_read_s = self.clock.now_s() + step_s
        turns = 0
        while self.clock.now_s() < end_s - 1e-9:
            turns += 1
            assert turns < 50 * (seconds + 1), "the bench asks to be woken again and again"
            due_s = [self.bench.next_due_s(), self.switchboard.next_due_s(), next_read_s, end_s]
            self.clock.jump_to(min(moment for moment in due_s if moment is not None))
            reads = self.clock.now_s() >= next_read_s - 1e-9
            next_read_s += step_s if reads else 0.0
            self.turn(reads=reads)

    def turn(self, *, reads: bool = False) -> None:
        self._move_water()
        if reads and self.is_reading:
            self._read()
        self.switchboard.advance(self.clock.now_s())
        self.bench.advance()
        self._carry_out()
        self.switchboard.advance(self.clock.now_s())
        self._carry_out()

    def _read(self) -> None:
        now_s = self.clock.now_s()
        places = {"jacket": self.water.jacket_degC, "room": self.water.room_degC}
        for probe, place in self.bench.plan.trays.items():
            true_degC = places.get(place, self.water.bath_degC)
            reading = Reading(self.noise.reading(true_degC, round(now_s)), 0.5, now_s)
            self.bench.heard(probe, self.words.get(probe, lambda same: same)(reading))

    def _move_water(self) -> None:
        now_s = self.clock.now_s()
        is_heated = self.switchboard.is_on(HEATER) or self.is_stuck
        self.water.advance(now_s - self._moved_s, self.heater_W if is_heated else 0.0)
        self._moved_s = now_s

    def _carry_out(self) -> None:
        for effect in self.bench.take_effects():
            if isinstance(effect, Write):
                self.entries.append(effect.entry)
            elif isinstance(effect, Play):
                self.tunes.append(effect.tune)
            elif isinstance(effect, Switch):
                self._move_water()
                self.switchboard.switch(effect.relay, effect.on)

    def _reported(self, report: Report) -> None:
        if isinstance(report, RelaySwitched):
            self.throws.append((report.at_s, report.relay, report.on))
            self.bench.relay_is(report.relay, report.on, report.why)
        elif isinstance(report, SwitchboardLost):
            self.bench.relays_made_safe()
