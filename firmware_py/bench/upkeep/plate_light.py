"""The light on the open plates: written down, added up against the user's own tests, and put out in time."""

from __future__ import annotations

import math
from collections.abc import Callable, Collection, Iterable, Mapping
from dataclasses import dataclass

from firmware_py.bench.interlocks.safelight import OUT_AT, LitPlate, Objection, objection, warning
from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.refusal import Locked
from firmware_py.craft.safelight import WARN_AT, Budget, budget, safe_s
from firmware_py.facts.events.plate import LightFell
from firmware_py.journal.plate_light import UNSEEN_S

SAFELIGHT = "safelight"
# Said again well before `UNSEEN_S`, so that a crash never leaves less on record than there was.
SAY_AGAIN_S = UNSEEN_S - 5.0
# A moment reckoned from a share may round to just before it: look a little after.
PAST_S = 0.001
# The switchboard's word that the light is out comes at once; where it does not come, it is asked again.
ASK_AGAIN_S = 1.0

IsOn = Callable[[], bool | None]
SwitchOff = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class SafelightTest:
    """The user's own test of a light and an emulsion.

    ``no_change_s`` [s] is the longest time that changed nothing, ``detectable_s`` [s] the next, that did.
    """

    emulsion: str
    no_change_s: float
    detectable_s: float
    light: str = SAFELIGHT

    @property
    def safe_s(self) -> float:
        """Get the longest safe time [s]."""
        return safe_s(self.no_change_s, self.detectable_s)


class LightOnPlates:
    """Watches the safelight over every open plate. ``settle`` writes only what is not yet so."""

    def __init__(
        self,
        tests: Iterable[SafelightTest],
        scribe: Scribe,
        notices: Notices,
        *,
        is_on: IsOn,
        switch_off: SwitchOff,
    ) -> None:
        self._safe_s: Mapping[tuple[str, str], float] = {
            (test.light, test.emulsion.casefold()): test.safe_s for test in tests
        }
        self._scribe = scribe
        self._notices = notices
        self._is_on = is_on
        self._switch_off = switch_off
        self._warned: set[str] = set()
        self._asked_s = -math.inf

    def safe_time_s(self, lane: Lane) -> float | None:
        """Return the safe time [s] of a lane's emulsion under the safelight, None without a test."""
        kind = lane.record.plate_kind
        return self.safe_time_of(kind.emulsion) if kind is not None else None

    def safe_time_of(self, emulsion: str) -> float | None:
        """Return the safe time [s] of an emulsion under the safelight, None without a test."""
        return self._safe_s.get((SAFELIGHT, emulsion.casefold()))

    def left_s(self, lane: Lane, now_s: float) -> float | None:
        """Return how long [s] the light may still fall on a lane's plate, None without a test."""
        safe_time_s, used = self.safe_time_s(lane), self._budget(lane, now_s)
        return None if safe_time_s is None or used is None else used.left_s(safe_time_s)

    def plate(self, lane: Lane, now_s: float) -> LitPlate:
        """Return the plate of a lane as the light sees it."""
        record, kind = lane.record, lane.record.plate_kind
        return LitPlate(
            plate=record.plate,
            lane=lane.number,
            sensitivity=kind.sensitivity if kind is not None else None,
            dark=lane.light == "dark",
            budget=self._budget(lane, now_s),
            whereabouts=lane.whereabouts,
        )

    def objection(self, lanes: Iterable[Lane]) -> Objection | None:
        """Return why the safelight must be off now; None where it may be on."""
        now_s = self._now_s()
        return objection(self.plate(lane, now_s) for lane in lanes if lane.is_open)

    def require_allowed(self, lanes: Iterable[Lane]) -> None:
        """Refuse to switch the safelight on while it would fog a plate."""
        against = self.objection(lanes)
        if against is not None:
            what = f"the safelight stays off while {against.why}"
            raise Locked(what, where="interlock 2", allowed=against.way_out)

    def settle(self, lanes: Iterable[Lane]) -> None:
        """Write down what light falls where, and put it out where it would fog."""
        now_s, lit = self._now_s(), bool(self._is_on())
        lanes = list(lanes)
        for lane in lanes:
            if lane.record.state != "ended" and lane.away is None:
                self._write(lane, lit and lane.is_open_plate, now_s)
        self._warn(lanes, now_s)
        against = self.objection(lanes)
        if against is None:
            self._notices.clear("safelight out")
            return
        words = f"Interlock 2: the safelight is off while {against.why}: {against.way_out}"
        self._notices.say("safelight out", words, now_s)
        if lit and now_s >= self._asked_s + ASK_AGAIN_S:
            self._asked_s = now_s
            self._switch_off(f"interlock 2: {against.why}")
            self._scribe.play("trouble")

    def next_due_s(self, lanes: Collection[Lane]) -> float | None:
        """Return the next moment [boot s] at which light has to be written down, warned of, or put out."""
        if not self._is_on():
            return None
        now_s = self._now_s()
        if self.objection(lanes) is not None:
            return max(now_s, self._asked_s) + ASK_AGAIN_S
        moments = [moment for lane in lanes if lane.is_open_plate for moment in self._moments(lane, now_s)]
        return min(moments, default=None)

    def _moments(self, lane: Lane, now_s: float) -> list[float]:
        record = lane.record
        if not record.light.is_lit_by(SAFELIGHT):
            return []
        moments = [record.boot_s_at(record.light.written_s) + SAY_AGAIN_S]
        safe_time_s, used = self.safe_time_s(lane), self._budget(lane, now_s)
        if safe_time_s is not None and used is not None:
            ahead = (at - used.used for at in (WARN_AT, OUT_AT) if used.used < at)
            moments += [now_s + share * safe_time_s + PAST_S for share in ahead]
        return moments

    def _budget(self, lane: Lane, now_s: float) -> Budget | None:
        safe_time_s = self.safe_time_s(lane)
        if safe_time_s is None:
            return None
        return budget(lane.record.light.times(lane.record.run_s_at(now_s)), {SAFELIGHT: safe_time_s})

    def _write(self, lane: Lane, lit: bool, now_s: float) -> None:
        record = lane.record
        was = record.light.is_lit_by(SAFELIGHT)
        old = was and now_s + PAST_S >= record.boot_s_at(record.light.written_s) + SAY_AGAIN_S
        if lit != was or (lit and old):
            self._scribe.write(record, LightFell(light=SAFELIGHT, on=lit))

    def _warn(self, lanes: Iterable[Lane], now_s: float) -> None:
        for lane in lanes:
            run_id, number = lane.record.run_id, lane.number
            plate = self.plate(lane, now_s) if lane.is_open_plate else None
            words = "" if plate is None else warning(plate)
            if not words:
                self._notices.clear("safe time", about=number)
                continue
            self._notices.say("safe time", words, now_s, about=number)
            if run_id not in self._warned:
                self._warned.add(run_id)
                self._scribe.play("soon")

    def _now_s(self) -> float:
        return self._scribe.clock.now_s()
