"""The heater of the water jacket: on for a share of each window, never against a watcher's word."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from firmware_py.bench.interlocks.heater_implausible import ImplausibleWatch
from firmware_py.bench.interlocks.heater_limit import LimitWatch
from firmware_py.bench.interlocks.heater_not_warming import NotWarmingWatch
from firmware_py.bench.interlocks.heater_stale import StaleWatch
from firmware_py.bench.interlocks.heater_stuck import StuckWatch
from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.warmth.heat_facts import HEATER, HeatRule, HeatSeen, HeatWatch
from firmware_py.bench.warmth.thermostat import Thermostat
from firmware_py.craft.proportioning import on_time_s
from firmware_py.craft.refusal import Refused
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.events.heat import HeatEnded, HeatSet, HeatStopped

COLDEST_SET_degC = 5.0
# The set point stays so far below the limit that no overshoot reaches it.
BELOW_LIMIT_K = 2.0


class Heater:
    """One heater. It is off until a person sets it, and after every start (interlock 6).

    ``stopped`` says why a watcher, ``stopped_by``, put it off until a person acts; ``waiting`` why it is off
    just now.
    """

    def __init__(self, rule: HeatRule, scribe: Scribe, notices: Notices) -> None:
        self.rule = rule
        self.set_degC: float | None = None
        self.bath = ""
        self.stopped = ""
        self.stopped_by = ""
        self.waiting = ""
        self.share = 0.0
        self.is_on = False
        self.word: Reading | NoReading | None = None
        self._others: Sequence[Reading] = ()
        self._room_degC: float | None = None
        self._scribe = scribe
        self._notices = notices
        self._thermostat = Thermostat(rule, scribe.clock.now_s)
        self._stale = StaleWatch()
        self._doubting: tuple[HeatWatch, ...] = (self._stale, ImplausibleWatch())
        self._watches: tuple[HeatWatch, ...] = (
            LimitWatch(rule.limit_degC),
            NotWarmingWatch(rule.warms_by_K, rule.warms_within_s),
            StuckWatch(),
        )
        self._since_s = -math.inf
        self._asked_s: float | None = None
        self._on_until_s = -math.inf
        self._window_ends_s = -math.inf

    @property
    def warmest_set_degC(self) -> float:
        """Get the highest temperature [degC] it can be set to."""
        return self.rule.limit_degC - BELOW_LIMIT_K

    # --- what a person does ---

    def set(self, set_degC: float, bath: str = "") -> None:
        """Bring the water to ``set_degC`` [degC]; what a watcher had against it is forgotten."""
        if not COLDEST_SET_degC <= set_degC <= self.warmest_set_degC:
            allowed = f"{COLDEST_SET_degC:g} to {self.warmest_set_degC:g} degC"
            raise Refused(f"{set_degC:g} degC", where="heater", allowed=allowed)
        self._forgive()
        self.set_degC, self.bath = set_degC, bath
        self._thermostat.aim(set_degC)
        self._scribe.write_session(HeatSet(set_degC=set_degC, bath=bath))

    def let_be(self, why: str) -> None:
        """Heat no more."""
        self._forgive()
        if self.set_degC is not None:
            self._scribe.write_session(HeatEnded(why=why))
        self.set_degC, self.bath = None, ""
        self._rest()

    # --- what devices say ---

    def heard(
        self, word: Reading | NoReading | None, others: Sequence[Reading], room_degC: float | None
    ) -> None:
        """Take in what the heater's probes say, and the other waters that it warms, and the room [degC]."""
        self.word, self._others, self._room_degC = word, others, room_degC

    def relay_is(self, on: bool, now_s: float) -> None:
        """Take in what the switchboard says of the relay."""
        if on != self.is_on:
            self.is_on, self._since_s = on, now_s

    # --- what time brings ---

    def advance(self, now_s: float) -> None:
        """Look through the watchers' eyes, then switch as the thermostat wants."""
        self._look(now_s)
        if self._wants_heat(now_s):
            if self._asked_s is None or now_s >= self._asked_s + self.rule.ask_again_s:
                self._scribe.switch(HEATER, on=True)
                self._asked_s = now_s
        elif self._asked_s is not None:
            self._scribe.switch(HEATER, on=False)
            self._asked_s = None

    def next_due_s(self) -> float | None:
        """Return the next moment [boot s] at which `advance` has something to do."""
        if self.set_degC is None or self.stopped:
            return None
        if self._asked_s is None:
            return self._window_ends_s if math.isfinite(self._window_ends_s) else None
        again_s, stale_s = self._asked_s + self.rule.ask_again_s, self._stale.due_s()
        return min(again_s, self._on_until_s, stale_s if stale_s is not None else again_s)

    def _look(self, now_s: float) -> None:
        seen = HeatSeen(now_s, self.word, self._others, self.is_on, self._since_s, self._room_degC)
        doubts = [watch.look(seen) for watch in self._doubting]
        self.waiting = next((why for why in doubts if why), "")
        # A reading that can not be believed proves nothing: the others do not get to see it.
        proven = replace(seen, word=None) if self.waiting else seen
        for watch in self._watches:
            why = watch.look(proven)
            if why and not self.stopped and (self.set_degC is not None or isinstance(watch, StuckWatch)):
                self._stop(watch.name, why, now_s)
        if self.set_degC is None or self.stopped:
            return
        if self.waiting:
            self._notices.say("heater waits", f"The heater waits: {self.waiting}", now_s)
        else:
            self._notices.clear("heater waits")

    def _stop(self, watcher: str, why: str, now_s: float) -> None:
        self.stopped, self.stopped_by = why, watcher
        self._rest()
        self._scribe.write_session(HeatStopped(watcher=watcher, why=why))
        self._notices.say("heater stopped", f"Interlock 4: the heater stays off: {why}", now_s)
        self._scribe.play("trouble")

    def _wants_heat(self, now_s: float) -> bool:
        if self.set_degC is None or self.stopped or self.waiting or not isinstance(self.word, Reading):
            self._rest()
            return False
        if now_s >= self._window_ends_s:
            self.share = self._thermostat.share(self.word)
            self._on_until_s = now_s + on_time_s(self.share, self.rule.window_s, self.rule.shortest_s)
            self._window_ends_s = now_s + self.rule.window_s
        else:
            self._thermostat.share(self.word)
        return now_s < self._on_until_s

    def _rest(self) -> None:
        self.share = 0.0
        self._on_until_s = self._window_ends_s = -math.inf

    def _forgive(self) -> None:
        self.stopped = self.stopped_by = ""
        self._notices.clear("heater waits")
        self._thermostat.forget()
        self._rest()
        for watch in (*self._doubting, *self._watches):
            watch.begin()
