"""Plays a script: the person of a rehearsal without one."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Protocol, cast

import msgspec

from firmware_py.bench.bench import Bench
from firmware_py.bench.trays.due import change_due_s, look_due_s
from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.refusal import Refused
from firmware_py.craft.simulation import GrowingImage
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.facts.acts import run as acts
from firmware_py.rehearsal.breakdown import BREAKDOWNS, USUAL_AWAY_S, Breakdown, BreakdownName
from firmware_py.rehearsal.print_script import lamp_act
from firmware_py.rehearsal.script import Deed, FaultName, Script
from firmware_py.rehearsal.script_when import is_so
from firmware_py.rehearsal.tray_script import tray_act
from firmware_py.rehearsal.upkeep_script import upkeep_act

SHORT_S = 0.15
HOLD_S = 1.5


class FaultMaker(Protocol):
    """Whatever can play a fault on the simulated bench."""

    def play_fault(self, fault: FaultName, probe: str | None = None) -> None:
        """Let a fault begin, or end; of the probe that is named, or the usual one."""
        ...


@dataclass(slots=True)
class Sequence:
    """Deeds that wait for each other: those for one plate, or for none. ``due_s`` [boot s] is the next's."""

    deeds: deque[Deed]
    due_s: float | None = None


@dataclass(slots=True)
class ScriptedPerson:
    """Plays a script on a bench. ``start_s`` [boot s] is time 0 of its ``at``; ``world`` plays its faults.

    Each plate's deeds are done in their order, whatever the others wait for. The one foot does one thing
    after another, and what it does is done when it comes up.
    """

    script: Script
    start_s: float
    world: FaultMaker
    refused: list[str] = field(default_factory=list)
    breakdown: Breakdown | None = None
    _sequences: list[Sequence] = field(init=False)
    _images: dict[str, GrowingImage] = field(default_factory=dict)
    _lift_s: float | None = None
    _treading: Sequence | None = None
    _is_stuck: bool = False

    def __post_init__(self) -> None:
        """Sort the deeds by what they wait for."""
        by_plate: dict[str | int | None, deque[Deed]] = {}
        for deed in self.script.deed:
            by_plate.setdefault(deed.sequence, deque()).append(deed)
        self._sequences = [Sequence(deeds) for deeds in by_plate.values()]

    def next_due_s(self, bench: Bench) -> float | None:
        """Return the next moment [boot s] at which something is done; None while waiting for the bench."""
        if self.breakdown is not None:
            return None
        moments = [self._lift_s, *(self._due_s(sequence, bench) for sequence in self._sequences)]
        return min((m for m in moments if m is not None), default=None)

    def play(self, bench: Bench) -> None:
        """Do everything that is due by now."""
        while self.breakdown is None and self._do_first(bench, bench.clock.now_s()):
            pass

    def is_over(self, bench: Bench) -> bool:
        """Return whether every deed is done or can never be, and no step goes on but what asks in vain."""
        if self._lift_s is not None or self.next_due_s(bench) is not None:
            return False
        if bench.lamp_side.printing.is_exposing:
            return False
        now_s = bench.clock.now_s()
        return all(
            lane.record.state != "running" or _asks_in_vain(lane, now_s) for lane in bench.runs.lanes.values()
        )

    @property
    def has_pulled_the_plug(self) -> bool:
        """Get whether the controller is to die now, without a word."""
        return self.breakdown is not None

    def begin_again(self, start_s: float) -> None:
        """Go on with another controller, time 0 of the script lying at ``start_s`` [boot s] of its clock."""
        self.breakdown, self.start_s = None, start_s
        self._lift_s, self._treading, self._is_stuck = None, None, False
        for sequence in self._sequences:
            sequence.due_s = None

    def _do_first(self, bench: Bench, now_s: float) -> bool:
        """Do what is due first, if anything is by now."""
        if self._lift_s is not None and self._lift_s <= now_s:
            self._lift_s = self._treading = None
            bench.step_on(FootEdge(down=False, at_s=now_s))
            return True
        due = [(s.due_s, n) for n, s in enumerate(self._sequences) if self._due_s(s, bench) is not None]
        first = min((pair for pair in due if pair[0] is not None and pair[0] <= now_s), default=None)
        if first is None:
            return False
        sequence = self._sequences[first[1]]
        deed, sequence.due_s = sequence.deeds.popleft(), None
        self._do(bench, deed, now_s)
        if deed.foot is not None and self._lift_s is not None:
            self._treading = sequence
        return True

    def _due_s(self, sequence: Sequence, bench: Bench) -> float | None:
        """Return when a sequence's next deed is due, as far as it is known."""
        deed = sequence.deeds[0] if sequence.deeds else None
        if deed is None or (deed.foot is not None and self._foot_is_busy) or sequence is self._treading:
            return None
        if sequence.due_s is None and deed.at is not None:
            sequence.due_s = self.start_s + deed.at
        elif sequence.due_s is None and self._is_time_for(deed, bench):
            sequence.due_s = bench.clock.now_s() + deed.later
        return sequence.due_s

    def _is_time_for(self, deed: Deed, bench: Bench) -> bool:
        return deed.when is not None and is_so(bench, self._lane(bench, deed), deed.when, self._images)

    @property
    def _foot_is_busy(self) -> bool:
        return self._lift_s is not None or self._is_stuck

    def _lane(self, bench: Bench, deed: Deed) -> Lane | None:
        """Return the lane that a deed is for, None while there is none."""
        lanes = bench.runs.lanes
        if deed.of is not None:
            return _newest(lane for lane in lanes.values() if deed.of in lane.record.plates)
        number = deed.tray if deed.tray is not None else bench.runs.focus
        return lanes.get(number) if number is not None else None

    def _do(self, bench: Bench, deed: Deed, now_s: float) -> None:
        try:
            if deed.fault is not None:
                self._let_fail(bench, deed, now_s)
            elif deed.foot is not None:
                self._turn_to(bench, deed)
                self._lift_s = now_s + (SHORT_S if deed.foot == "press" else HOLD_S)
                bench.step_on(FootEdge(down=True, at_s=now_s))
            elif deed.turn:
                self._turn_to(bench, deed)
            else:
                bench.do(self._act(bench, deed))
        except Refused as refusal:
            self.refused.append(refusal.line)

    def _let_fail(self, bench: Bench, deed: Deed, now_s: float) -> None:
        match deed.fault:
            case "foot stuck":
                self._is_stuck = True
                bench.step_on(FootEdge(down=True, at_s=now_s))
            case "foot well":
                self._is_stuck = False
                bench.step_on(FootEdge(down=False, at_s=now_s))
            case fault if fault in BREAKDOWNS:
                away_s = USUAL_AWAY_S if deed.away is None else float(deed.away)
                self.breakdown = Breakdown(cast("BreakdownName", fault), away_s, float(deed.clock_off or 0.0))
            case fault if fault is not None:
                self.world.play_fault(fault, deed.probe)

    def _turn_to(self, bench: Bench, deed: Deed) -> None:
        """Turn keys and foot to the tray that a deed is for."""
        lane = self._lane(bench, deed)
        if lane is not None and lane.number != bench.runs.focus:
            bench.do(acts.Focus(lane=lane.number))

    def _act(self, bench: Bench, deed: Deed) -> acts.AnyAct:
        if deed.open is not None and deed.open.image is not None:
            self._images[deed.open.plate] = deed.open.image.image()
        act = tray_act(deed) or lamp_act(deed) or upkeep_act(deed)
        if act is None:
            raise AssertionError("a deed without an act")
        if deed.sequence is None or "lane" not in act.__struct_fields__:
            return act
        lane = self._lane(bench, deed)
        if lane is None:
            raise Refused(f"no run of {deed.sequence!r} lies on the bench", where="script")
        return msgspec.structs.replace(act, lane=lane.number)


def _asks_in_vain(lane: Lane, now_s: float) -> bool:
    """Return whether a step asks for what nobody does: is the plate clear, change the water."""
    asked_s = look_due_s(lane) if look_due_s(lane) is not None else change_due_s(lane)
    return asked_s is not None and asked_s <= now_s


def _newest(lanes: Iterable[Lane]) -> Lane | None:
    return max(lanes, key=lambda lane: lane.record.run_id, default=None)
