"""The runs on the bench: which lies in which tray, and which one keys and foot act on."""

from __future__ import annotations

from collections.abc import Mapping

from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.hands import Hands
from firmware_py.bench.trays.lane import Lane, lane_free
from firmware_py.bench.trays.resume import tray_number
from firmware_py.bench.trays.stepping import Stepping
from firmware_py.bench.trays.taking_back import TakingBack
from firmware_py.bench.trays.taking_up import TakingUp
from firmware_py.bench.trays.watch import Watch
from firmware_py.bench.warmth.thermometers import Thermometers
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Routine
from firmware_py.devices.probe import Reading
from firmware_py.facts.about_run import about
from firmware_py.facts.acts.run import OpenRun
from firmware_py.facts.events import run as ev
from firmware_py.journal.run_record import RunRecord

MOST_LANES = 6


class Runs:
    """Every run that lies on the bench, by lane, and the one that keys and foot act on."""

    def __init__(
        self, routines: Mapping[str, Routine], thermometers: Thermometers, scribe: Scribe, notices: Notices
    ) -> None:
        self.lanes: dict[int, Lane] = {}
        self.focus: int | None = None
        self.opened: list[str] = []
        stepping = Stepping(scribe, notices)
        taking_back = TakingBack(scribe, notices)
        self.hands = Hands(stepping, scribe, taking_back)
        self.taking_up = TakingUp(scribe)
        self._stepping = stepping
        self._watch = Watch(stepping, scribe, notices, taking_back)
        self._routines = routines
        self._thermometers = thermometers
        self._scribe = scribe

    def lane(self, number: int | None) -> Lane:
        """Return a lane by its number, or the one in focus. Raises Refused where no run lies."""
        wanted = self.focus if number is None else number
        if wanted is None or wanted not in self.lanes:
            allowed = ", ".join(f"tray {n}" for n in sorted(self.lanes)) or "open a run first"
            where = "bench" if wanted is None else f"tray {wanted}"
            raise Refused("no run lies there", where=where, allowed=allowed)
        return self.lanes[wanted]

    def lane_of_run(self, run_id: str) -> Lane | None:
        """Return the lane of a run, None where it is none of the bench's."""
        return next((lane for lane in self.lanes.values() if lane.record.run_id == run_id), None)

    def free_lines(self) -> int:
        """Return how many more runs can be opened now."""
        return MOST_LANES - sum(1 for lane in self.lanes.values() if lane.record.state != "ended")

    def run_of(self, plate: str) -> str | None:
        """Return the id of the newest run of a plate that this bench knows of, by the plate's name."""
        wanted = plate.casefold()
        records = [lane.record for lane in self.lanes.values()]
        found = [r.run_id for r in records if wanted in {name.casefold() for name in r.plates}]
        return max(found, default=None)

    def first_routine_for_paper(self) -> str:
        """Return the name of the first routine for paper. Raises Refused where there is none."""
        for name, routine in self._routines.items():
            if routine.sheet == "paper":
                return name
        raise Refused("there is no routine for paper", where="open", allowed='one with sheet = "paper"')

    def require_routine_for_paper(self, name: str) -> None:
        """Refuse a routine that is made for plates."""
        routine = self._routines.get(name)
        if routine is not None and routine.sheet != "paper":
            raise Refused(f"routine {name!r} is for plates", where="open", allowed="one for paper")

    def _routine_called(self, name: str) -> Routine:
        routine = self._routines.get(name)
        if routine is None:
            raise Refused(f"there is no routine {name!r}", where="open", allowed=", ".join(self._routines))
        return routine

    # --- opening, ending, moving on ---

    def open(self, act: OpenRun, *, rehearsal: bool) -> Lane:
        """Lay plates, or paper, ready for a routine in a free lane (the first, or the act's)."""
        routine = self._routine_called(act.routine)
        number = self._free(act.lane)
        record = self._scribe.open_run(
            ev.RunOpened(
                **about(act),
                plate=act.plate,
                tray=f"tray {number}",
                routine=routine,
                rehearsal=rehearsal,
                others=act.others,
            )
        )
        self.lanes[number] = Lane(number, record, self._thermometers)
        self.focus = number
        self.opened.append(record.run_id)
        self._ask_for_precedents(self.lanes[number])
        return self.lanes[number]

    def correct(self, lane: Lane, corrected: ev.PlateCorrected) -> None:
        """Name the plates of a lane's run anew; of another box, the book is asked for its precedents."""
        box = lane.record.named.box
        self._scribe.write(lane.record, corrected)
        if lane.record.named.box != box:
            lane.precedent = None
            self._ask_for_precedents(lane)

    def proceed(self, lane: Lane) -> None:
        """Put the plate in, or move it on when its step is due."""
        self.hands.proceed(lane)

    def abandon(self, lane: Lane) -> None:
        """Give a run up; the log keeps it."""
        if lane.record.state == "ended":
            raise Refused("cannot give up a run that is over", where="abandon")
        self.taking_up.give_up(lane)
        here = lane.here
        if here is not None:
            self._scribe.write(lane.record, ev.StepEnded(step=here.step, why="abandoned"))
        self._scribe.write(lane.record, ev.RunEnded(ended="abandoned"))
        self._stepping.forget(lane)

    def resume(self, record: RunRecord) -> None:
        """Take up a run left open by an earlier controller: at once, or by a person after a new start."""
        number = tray_number(record, self.lanes)
        lane = Lane(number, record, self._thermometers)
        self.lanes[number] = lane
        self.focus = self.focus or number
        self.opened.append(record.run_id)
        self.taking_up.found(lane)
        self._ask_for_precedents(lane)

    # --- what probes and time bring ---

    def told(self, lane: Lane, bath_degC: float) -> None:
        """Take the temperature of the bath in a lane, read by hand."""
        reading = self.hands.told(lane, bath_degC)
        self._watch.heard(self.lanes.values(), lane.thermometer, reading)

    def note_temperature(self, probe: str, reading: Reading) -> None:
        """Write a believed reading of a probe into every run whose plate lies in its bath."""
        self._watch.heard(self.lanes.values(), self._thermometers.of_probe(probe), reading)

    def next_due_s(self, now_s: float) -> float | None:
        """Return the next moment [boot s] at which any tray has something to do."""
        moments = [self._watch.next_due_s(lane, now_s) for lane in self.lanes.values()]
        return min((m for m in moments if m is not None), default=None)

    def advance(self, now_s: float) -> None:
        """Do what has fallen due by now in every lane."""
        self._watch.advance(self.lanes.values(), now_s)

    def _free(self, number: int | None) -> int:
        if number is not None:
            lane = self.lanes.get(number)
            if not 1 <= number <= MOST_LANES or (lane is not None and lane.record.state != "ended"):
                rule = f"a free tray from 1 to {MOST_LANES}"
                raise Refused(f"tray {number} can not take a plate now", where="open", allowed=rule)
            return number
        free = lane_free(self.lanes, MOST_LANES)
        if free is None:
            what = f"cannot open a run while all {MOST_LANES} trays are in use"
            raise Refused(what, where="open", allowed="bring one to its end, or give one up")
        return free

    def _ask_for_precedents(self, lane: Lane) -> None:
        record = lane.record
        developer = next((s.bath for s in record.routine.steps if s.development is not None), None)
        if record.named.box and developer is not None:
            self._scribe.ask_book(record.run_id, record.named.box, developer)
