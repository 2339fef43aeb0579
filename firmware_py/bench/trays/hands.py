"""What a person does to the plate in a tray: begin, mark, pull, move on, note, tell the temperature."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.cues import SOON_S
from firmware_py.bench.trays.due import change_due_s
from firmware_py.bench.trays.foot_table import FOOT_TABLE, Deed, mark_of_the_foot, situation
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.stepping import Stepping
from firmware_py.bench.trays.taking_back import TakingBack
from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_time
from firmware_py.devices.probe import Reading
from firmware_py.facts.events import run as ev


class Hands:
    """Does what a person asks of one tray, or raises Refused and changes nothing."""

    # Raises Refused where a plate may not begin its routine: baths that nobody should trust a plate to.
    before_begin: Callable[[Lane], None]

    def __init__(self, stepping: Stepping, scribe: Scribe, taking_back: TakingBack) -> None:
        self.before_begin = lambda _: None
        self.taking_back = taking_back
        self._stepping = stepping
        self._scribe = scribe

    def proceed(self, lane: Lane) -> None:
        """Put the plate in, or move it on when its step is due."""
        record, plan = lane.record, lane.plan
        if lane.away is not None:
            what = f"cannot go on while {record.plate} waits to be taken up"
            raise Refused(what, where="proceed", allowed="take it up first")
        if record.state == "ready":
            self.before_begin(lane)
            self._stepping.start_next(lane)
        elif record.state == "due":
            is_pulled = lane.is_developing
            self._stepping.end_step(lane, "pulled" if is_pulled else "moved on")
            if is_pulled:
                self.taking_back.offer(lane)
        elif record.state == "ended" or plan is None:
            what = f"cannot go on while the run of {record.plate} is over"
            raise Refused(what, where="proceed", allowed="open a run for the next plate")
        else:
            raise Refused(
                f"cannot move on while {plan.name} goes on",
                where="proceed",
                allowed="once its time is over; or pull it out of a developer, cut any other step short",
            )

    def mark(self, lane: Lane, what: str) -> None:
        """Write down that something shows on the plate."""
        if lane.here is None or lane.away is not None:
            refused = f"cannot mark {what!r} while no step goes on in tray {lane.number}"
            raise Refused(refused, where="mark", allowed="once the plate lies in a bath")
        bath_degC = lane.believed(self._now_s()).bath_degC if lane.is_developing else None
        self._scribe.write(lane.record, ev.MarkMade(what=what, bath_degC=bath_degC))
        lane.back_until_s = None
        self._scribe.play("heard")

    def take_back_mark(self, lane: Lane) -> None:
        """Let the last mark of the step going on count for nothing."""
        here = lane.here
        marks = [m for m in lane.record.marks if here is not None and m.step == here.step]
        if not marks or lane.away is not None:
            raise Refused(f"there is no mark of this step in tray {lane.number}", where="take back")
        self._scribe.write(lane.record, ev.MarkTakenBack(what=marks[-1].what))
        self._scribe.play("heard")

    def note(self, lane: Lane, text: str) -> None:
        """Write a remark."""
        self._scribe.write(lane.record, ev.NoteWritten(text=text))

    def pull(self, lane: Lane) -> None:
        """End the development now; the next step begins at the same instant."""
        if not lane.is_developing:
            what = f"cannot pull while nothing develops in tray {lane.number}"
            raise Refused(what, where="pull", allowed="a plate in a developer")
        self._stepping.end_step(lane, "pulled")
        self.taking_back.offer(lane)
        self._scribe.play("heard")

    def cut_short(self, lane: Lane) -> None:
        """End a step that is not a development before its time."""
        if lane.is_developing:
            raise Refused("cannot cut a development short", where="cut short", allowed="pull the plate")
        if lane.record.state != "running" or lane.away is not None:
            what = f"cannot cut short while no step goes on in tray {lane.number}"
            raise Refused(what, where="cut short", allowed="a step that has begun")
        self._stepping.end_step(lane, "cut short")

    def change_water(self, lane: Lane) -> None:
        """Take in that the wash got fresh water; a second press of the same foot is no second change."""
        here, due_s = lane.here, change_due_s(lane)
        if here is None or due_s is None:
            raise Refused(f"no water is to be changed in tray {lane.number}", where="change water")
        early_s = due_s - self._now_s()
        if early_s > SOON_S:
            words = f"the water in tray {lane.number} has its time for another {say_time(early_s)}"
            raise Refused(words, where="change water", allowed=f"in its last {SOON_S:g} s, or later")
        self._scribe.write(lane.record, ev.WaterChanged(step=here.step))
        lane.back_until_s = None
        self._scribe.play("heard")

    def told(self, lane: Lane, bath_degC: float) -> Reading:
        """Take a temperature read by hand; while a probe speaks, it is the probe that counts."""
        last, now_s = lane.thermometer.last, self._now_s()
        if last is not None and last.source != "hand" and not lane.thermometer.is_stale(now_s):
            raise Refused(
                f"the probe of tray {lane.number} reads {last.bath_degC:.1f} degC",
                where="temperature",
                allowed="by hand only while the probe is silent, or once it is set aside",
            )
        return lane.thermometer.told(bath_degC, now_s)

    # --- by foot ---

    def press(self, lane: Lane, *, long: bool) -> None:
        """Do what a short or a long press of the foot means in a tray, by the one table."""
        row = FOOT_TABLE[situation(lane)]
        self._do(lane, row.long if long else row.short)

    def _do(self, lane: Lane, deed: Deed) -> None:
        match deed:
            case "mark" | "mark clear":
                self.mark(lane, mark_of_the_foot(lane) or lane.record.routine.clearing_mark)
            case "pull":
                self.pull(lane)
            case "put back":
                self.taking_back.take_back(lane)
            case "change water":
                self.change_water(lane)
            case "cut short":
                self.cut_short(lane)
            case "say again":
                self._scribe.play(lane.cues.last.tune if lane.cues.last is not None else "heard")
            case "begin" | "move on" | "turn" | "":
                # A press that means nothing is refused in words, by the same rule as the key.
                self.proceed(lane)

    def _now_s(self) -> float:
        return self._scribe.clock.now_s()
