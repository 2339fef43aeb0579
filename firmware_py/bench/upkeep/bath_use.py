"""What runs do to the baths: named for their steps, used by their plates, judged by how those clear."""

from __future__ import annotations

from collections.abc import Iterable

from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.upkeep.bath_choice import all_meant, fits, kind_needed, meant
from firmware_py.bench.upkeep.baths import Baths
from firmware_py.craft.fixing import LONGEST_CLEARING_S
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import bath as ua
from firmware_py.facts.events.bath import BathClearingSeen, BathUsed
from firmware_py.facts.events.plate import BathNamed
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.seen import cleared_s

# A development that would take longer than this is not lengthened further: the bath is used up, and said so.
MOST_TIMES_LONGER = 2.0


class BathUse:
    """Ties the runs to the baths. `settle` may be called at any time; it writes only what is not yet so."""

    def __init__(self, baths: Baths, scribe: Scribe, notices: Notices) -> None:
        self._baths = baths
        self._scribe = scribe
        self._notices = notices
        self._usual: dict[tuple[str, int], str] = {}
        # What the plate of a run lay in, of which a person has yet to say which bottle it was.
        self._open: dict[tuple[str, int], list[str]] = {}

    def choices(self, record: RunRecord, number: int) -> list[BathRecord]:
        """Return the baths that a step's words can mean, where they are several and none is named for it."""
        if self._named(record, number) is not None:
            return []
        found = all_meant(record.routine.steps[number], self._baths.standing.values())
        return found if len(found) > 1 else []

    def name(self, lane: Lane, act: ua.NameBath) -> None:
        """Name the bath for a step that goes on or is to come. Raises Refused where it can not be."""
        record, bath = lane.record, self._baths.called(act.bath)
        number = record.next_step if act.step is None else act.step
        if lane.away is not None or record.state == "ended" or number >= len(record.routine.steps):
            raise Refused(f"cannot name a bath while no step comes in tray {lane.number}", where="bath")
        step = record.routine.steps[number]
        if not fits(step, bath):
            what = f"{bath.name} is a {bath.made.kind}"
            raise Refused(what, where=f"bath of {step.name}", allowed=f"a {kind_needed(step)}")
        self._refuse_changing_it_now(lane, number)
        self._baths.require_good(bath)
        self._write(record, number, bath)
        self._usual[record.routine.name, number] = bath.subject
        self._said(lane, number)

    def settle(self, lanes: Iterable[Lane]) -> None:
        """Name what is meant, count what has been put into a bath, and ask where several can be meant."""
        if not self._baths.standing:
            return
        for lane in lanes:
            if not lane.record.steps:
                self._notices.clear("bath assumed", about=lane.number)
            self._ask_which(lane)
            self._assume_what_was_not_said(lane)
            if lane.away is None and lane.record.state != "ended":
                self._name_what_is_meant(lane.record)
                self._count(lane)
                self._see_clearing(lane.record)

    def _ask_which(self, lane: Lane) -> None:
        """Ask for the bottle of a step that is going on, where its words can mean several."""
        record, here = lane.record, lane.here
        if here is None or (record.run_id, here.step) in self._open:
            return
        found = self.choices(record, here.step)
        if found:
            self._open[record.run_id, here.step] = [bath.subject for bath in found]
            name = record.routine.steps[here.step].name
            words = f"Run {lane.number}, {name}: which bath, {' or '.join(bath.name for bath in found)}?"
            self._notices.say("which bath", words, self._scribe.clock.now_s(), about=lane.number)

    def _assume_what_was_not_said(self, lane: Lane) -> None:
        """Count a step that is over, and of which nobody said the bottle, on the likeliest; say so."""
        record, here = lane.record, lane.here
        for run_id, number in list(self._open):
            is_here = here is not None and here.step == number
            if run_id != record.run_id or is_here:
                continue
            standing = self._baths.standing
            left = [standing[bath] for bath in self._open[run_id, number] if bath in standing]
            self._said(lane, number)
            if left and number not in record.baths:
                bath = self._likeliest(left)
                self._count_late(record, number, bath)
                words = f"Run {lane.number}, {record.routine.steps[number].name}: counted on {bath.name}"
                self._notices.say("bath assumed", words, self._scribe.clock.now_s(), about=lane.number)

    def _likeliest(self, baths: list[BathRecord]) -> BathRecord:
        """Return the bath last used, of those that are good if any is; the oldest where none was used."""
        good = [bath for bath in baths if not self._baths.judged(bath).against]
        return max(good or baths, key=lambda bath: bath.uses[-1].run_id if bath.uses else "")

    def _count_late(self, record: RunRecord, number: int, bath: BathRecord) -> None:
        # A development that is over lasted as it did: its bath does not lengthen it afterwards.
        if record.state != "ended":
            self._scribe.write(record, BathNamed(step=number, bath_id=bath.subject, bath=bath.name))
        self._use(record, number, bath)

    def _said(self, lane: Lane, number: int) -> None:
        if self._open.pop((lane.record.run_id, number), None) is not None:
            self._notices.clear("which bath", about=lane.number)

    def _name_what_is_meant(self, record: RunRecord) -> None:
        first_to_come = record.next_step + (record.here is not None)
        for number, step in enumerate(record.routine.steps):
            if number < first_to_come:
                continue
            bath = self._named(record, number) or meant(step, self._baths.standing.values())
            if bath is not None:
                self._write(record, number, bath)

    def _named(self, record: RunRecord, number: int) -> BathRecord | None:
        """Return the bath named for a step, or the one that was last named for it in such a routine."""
        named = record.baths.get(number)
        standing = self._baths.standing
        here = standing.get(named.bath_id) if named is not None else None
        return here or standing.get(self._usual.get((record.routine.name, number), ""))

    def _count(self, lane: Lane) -> None:
        record, here = lane.record, lane.here
        named = record.baths.get(here.step) if here is not None else None
        bath = self._baths.standing.get(named.bath_id) if named is not None else None
        if here is None or bath is None or bath.has_served(record.run_id, here.step):
            return
        # The plate finds the bath as those before it left it: its own area counts for the next.
        self._write(record, here.step, bath)
        self._use(record, here.step, bath)

    def _use(self, record: RunRecord, number: int, bath: BathRecord) -> None:
        area_cm2 = record.plate_kind.area_cm2 if record.plate_kind else 0.0
        used = BathUsed(run_id=record.run_id, step=number, area_cm2=area_cm2, plate=record.plate)
        self._scribe.follow(bath, used)

    def _see_clearing(self, record: RunRecord) -> None:
        """Judge a fixer by the mark that a plate of the run is clear."""
        for step in record.steps:
            named = record.baths.get(step.step)
            bath = self._baths.standing.get(named.bath_id) if named is not None else None
            if bath is None or bath.made.kind != "fixer":
                continue
            clearing_s = cleared_s(record, step)
            if clearing_s is None or bath.clearings.get(record.run_id) == clearing_s:
                continue
            if 0 < clearing_s <= LONGEST_CLEARING_S:
                # The time of the fresh bath, where no other plate has used it before and nobody said one.
                fresh = bath.fresh_clearing_s is None and bath.runs == 1
                seen = BathClearingSeen(clearing_s=clearing_s, fresh=fresh, run_id=record.run_id)
                self._scribe.follow(bath, seen)

    def _write(self, record: RunRecord, number: int, bath: BathRecord) -> None:
        develops = record.routine.steps[number].kind == "develop"
        longer = (self._baths.judged(bath).times_longer or MOST_TIMES_LONGER) if develops else 1.0
        named = BathNamed(step=number, bath_id=bath.subject, bath=bath.name, times_longer=longer)
        if record.baths.get(number) != named:
            self._scribe.write(record, named)

    def _refuse_changing_it_now(self, lane: Lane, number: int) -> None:
        here = lane.here
        named = lane.record.baths.get(number)
        if here is not None and here.step == number and named is not None:
            raise Refused(
                f"plate {lane.record.plate!r} lies in {named.bath} already",
                where="bath",
                allowed="a later step",
            )
