"""The session at the printing lamp: what is exposed, from the announcement to the end of each sheet."""

from __future__ import annotations

import math
from typing import Literal, Protocol

from firmware_py.bench.interlocks.ceiling import CeilingWatch, ceiling_for
from firmware_py.bench.interlocks.open_plate import OpenPlate, require_no_open_plate
from firmware_py.bench.lamp.dose import DoseMeter, DoseRule
from firmware_py.bench.lamp.exposure_safelight import ExposureSafelight, SafelightDoor
from firmware_py.bench.lamp.free_lines import require_free_line
from firmware_py.bench.lamp.lamp_rule import PRINTING_LAMP, LampRule
from firmware_py.bench.lamp.next_exposure import NextExposure, next_exposure
from firmware_py.bench.lamp.print_desk import PrintDesk
from firmware_py.bench.lamp.print_resume import Traces, ending_events, interrupted_words
from firmware_py.bench.lamp.print_sheets import after_exposure, forgo_rest, what_is_next
from firmware_py.bench.lamp.shutter_cues import ShutterCues
from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import print as pe
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_sheet import Exposure
from firmware_py.switchboard.reports import ExposureBegan, ExposureEnded

# The announcement must be on the disk so soon, or the exposure is refused: nobody waits in the dark for it.
COMMIT_WITHIN_S = 1.0
BY_DOSE = "dose"


def asked_as(print_id: str, exposure: str) -> str:
    """Return what an exposure of a print is called at the switchboard: no other has ever had that name."""
    return f"{print_id}/{exposure}"


class Darkroom(SafelightDoor, Protocol):
    """What the session has to know of the rest of the bench; ``relays_ready`` where a switchboard runs."""

    relays_ready: bool

    def open_plates(self) -> list[OpenPlate]:
        """Return the plates that light would spoil."""
        ...

    def free_lines(self) -> int:
        """Return for how many more sheets a run is free."""
        ...


class Printing(PrintDesk):
    """One print at a time under the lamp. It leaves what is to be done with the scribe."""

    def __init__(self, rule: LampRule, scribe: Scribe, notices: Notices, room: Darkroom) -> None:
        super().__init__(scribe, notices)
        self.rule = rule
        self.quiet_since_s = -math.inf
        self.is_stopping = False
        self._room = room
        self._watch = CeilingWatch()
        self._cues = ShutterCues()
        self._stopped_by = ""
        self.dose = DoseMeter(rule.dose, rule.lag.lag_s)
        self.safelight = ExposureSafelight(rule.safelight, room)

    # --- what it stands at ---

    @property
    def is_exposing(self) -> bool:
        """Get whether paper gets light now, or is about to: then any press of the foot ends it."""
        return self.record is not None and self.record.state in {"announced", "lit", "uncovered"}

    @property
    def may_be_lit(self) -> bool:
        """Get whether the lamp is lit or about to be."""
        return self.record is not None and self.record.state in {"announced", "lit", "warm", "uncovered"}

    @property
    def lit_for(self) -> str | None:
        """Get what the exposure that lights the lamp is called at the switchboard; None in the dark."""
        lit = self.record.lamp_lit if self.record else None
        return asked_as(self.record.print_id, lit.exposure) if self.record and lit else None

    def resume(self, record: PrintRecord, traces: Traces) -> None:
        """Take up a print left open by an earlier controller; an exposure of then is ended in the book.

        The lamp stays dark: a person gives the rest, or gives the sheet up.
        """
        self.record = record
        self.opened.append(record.print_id)
        lamp = record.lamp_lit
        here = record.exposure or lamp
        asked = asked_as(record.print_id, lamp.exposure) if lamp else ""
        for event in ending_events(record, asked, traces, self._scribe.clock):
            self.write(event)
        if lamp is None or here is None:
            return
        after_exposure(self)
        self.interrupted = interrupted_words(record, here)
        self.say(self.interrupted, "lamp interrupted")

    # --- light ---

    def go_on(self, by: str, at_s: float | None = None) -> None:
        """Do what comes next: expose, light the lamp that is kept lit, or begin to expose under it.

        ``at_s`` [boot s] is when a hand or foot did it, now if not said.
        Raises Refused where an interlock or the state of the print forbids it.
        """
        record = self.here()
        if record.state not in {"dark", "warm"}:
            raise Refused("the lamp is lit already", where="lamp", allowed="stop it first")
        if self._now_s() < self.quiet_since_s + self.rule.pause_s:
            raise Refused(
                "too soon after the last exposure", where="lamp", allowed=f"after {self.rule.pause_s:g} s"
            )
        if record.mode == "kept lit" and record.state == "dark":
            self._light(NextExposure("lamp", len(record.kept_lit) + 1, "lamp kept lit"))
            return
        coming = next_exposure(record)
        if coming.too_short:
            forgo_rest(self)
            return
        self.require_free_line()
        if record.state == "warm":
            self._uncover(coming, by, self._now_s() if at_s is None else at_s)
        else:
            self._light(coming)

    def require_free_line(self) -> None:
        """Refuse a fresh sheet that could not go into its baths."""
        require_free_line(self.here(), self._room.free_lines())

    def stop(self, by: str, at_s: float | None = None) -> None:
        """End the exposure that goes on, at once; nothing is done where none does.

        ``at_s`` [boot s] is when a hand or foot did it, now if not said.
        """
        if self.record is not None and self.record.state == "uncovered":
            self._cover(self._now_s() if at_s is None else at_s)
        elif self.is_exposing:
            self._put_out(by)

    def darken(self, by: str) -> None:
        """Put the lamp out, whatever it is lit for; nothing is done where it is dark."""
        if self.record is not None and self.record.state == "uncovered":
            self._cover(self._now_s())
        if self.may_be_lit:
            self._put_out(by)

    def _light(self, coming: NextExposure) -> None:
        record = self.here()
        self._ask_interlocks()
        by_dose = self.dose.rule_for(coming.effective_s, self._now_s())
        ceiling_s = self._ceiling_s(coming, by_dose)
        exposure = str(record.number + 1)
        asked = asked_as(record.print_id, exposure)
        self.write(
            pe.ExposureAnnounced(
                exposure=exposure,
                part=coming.part,
                number=coming.number,
                rest=coming.rest,
                effective_s=coming.effective_s,
                on_time_s=coming.on_time_s,
                ceiling_s=ceiling_s,
                by_dose=by_dose is not None,
            )
        )
        self.dose.announce(coming.effective_s if by_dose is not None else None)
        self._stopped_by, self.is_stopping, self.interrupted = "", False, ""
        self._watch.expect(asked, self._now_s() + COMMIT_WITHIN_S, ceiling_s)
        if coming.part != "lamp":
            self.safelight.set()
        for_s = coming.on_time_s if by_dose is None else None
        self._scribe.expose(asked, PRINTING_LAMP, for_s=for_s, ceiling_s=ceiling_s)
        self.say(f"The lamp goes on: {coming.words}{self._how_it_ends(coming)}")

    def _ask_interlocks(self) -> None:
        self._room.safe_start.require(self.rule.name)
        if not self._room.relays_ready:
            raise Refused("there is no switchboard just now", where="lamp", allowed="once it is back")
        require_no_open_plate(self._room.open_plates())

    def _ceiling_s(self, coming: NextExposure, by_dose: DoseRule | None) -> float:
        """Return how long [s] the switchboard lets the lamp be on at the most."""
        if by_dose is not None and coming.on_time_s is not None:
            return by_dose.ceiling_s(coming.on_time_s, self.rule.longest_on_s)
        longest_s = self.rule.bulb_ceiling_s if coming.part == "bulb" else self.rule.longest_on_s
        return ceiling_for(coming.on_time_s, min(longest_s, self.rule.longest_on_s))

    def _how_it_ends(self, coming: NextExposure) -> str:
        if self.dose.is_measuring:
            return ", until the light sensor has its dose"
        if self.dose.is_wanted_for(coming.effective_s):
            return f", by time: {self.dose.trouble or 'the light sensor is silent'}"
        return ""

    def _put_out(self, by: str) -> None:
        lit = self.here().lamp_lit
        if lit is not None and not self.is_stopping:
            self._stopped_by, self.is_stopping = by, True
            self._scribe.stop_exposure(asked_as(self.here().print_id, lit.exposure))

    def _uncover(self, coming: NextExposure, by: str, at_s: float) -> None:
        record = self.here()
        require_no_open_plate(self._room.open_plates())
        self.write(
            pe.FrameUncovered(
                exposure=str(record.number + 1),
                part=coming.part,
                number=coming.number,
                rest=coming.rest,
                effective_s=coming.effective_s,
                at_s=at_s,
            )
        )
        self._cues.begin(record, at_s)
        self.safelight.set()
        self._scribe.play("heard")
        self.say(f"{coming.words}: uncovered by {by}")

    def _cover(self, at_s: float, why: Literal["covered", "lamp out"] = "covered") -> None:
        exposure = self.here().exposure
        if exposure is None:
            raise AssertionError("a frame without an exposure")
        self.write(pe.FrameCovered(exposure=exposure.exposure, at_s=at_s, why=why))
        self._cues.end()
        self._quiet(at_s)
        self._scribe.play("heard")
        after_exposure(self)

    # --- what the switchboard says ---

    def began(self, report: ExposureBegan) -> None:
        """Take in that the lamp was lit."""
        lit = self._lit(report.id)
        if lit is None:
            self._scribe.stop_exposure(report.id)
            return
        self.write(pe.ExposureBegan(exposure=lit.exposure, at_s=report.at_s))
        self.dose.begin(report.at_s)
        self._watch.expect(report.id, report.at_s, lit.ceiling_s or self.rule.longest_on_s)

    def ended(self, report: ExposureEnded) -> None:
        """Take in that the lamp went out."""
        record = self.record
        lit = self._lit(report.id)
        if record is None or lit is None:
            return
        if record.state == "uncovered":
            self._cover(report.off_s, "lamp out")
        by_dose = report.why == "stopped" and self._stopped_by == BY_DOSE
        self.write(
            pe.ExposureEnded(
                exposure=lit.exposure,
                on_s=report.on_s,
                off_s=report.off_s,
                why="dose" if by_dose else report.why,
                doubt_s=report.doubt_s,
                stopped_by=self._stopped_by if report.why == "stopped" and not by_dose else "",
                dose_s=self.dose.end(report.off_s),
            )
        )
        self._settled(report.off_s)
        self._scribe.play("now" if by_dose or report.why == "time" else "heard")
        if lit.part != "lamp":
            after_exposure(self)
        if report.why in {"ceiling", "made safe", "switchboard lost"}:
            self.say(
                f"The lamp went out by itself ({report.why}): {what_is_next(record)}", "lamp out by itself"
            )

    def refused(self, exposure: str, why: str) -> None:
        """Take in that the lamp was not lit for an exposure that was announced."""
        record = self.record
        lit = self._lit(exposure)
        if record is None or lit is None or record.state != "announced":
            return
        self.write(pe.ExposureRefused(exposure=lit.exposure, why=why))
        self.dose.announce(None)
        self._settled(self._now_s())
        if self._stopped_by:
            self.say(f"Stopped by {self._stopped_by} before the lamp went on")
            return
        self.say(f"No exposure: {why}", "no exposure")
        self._scribe.play("trouble")

    def _lit(self, asked: str) -> Exposure | None:
        """Return the exposure that lights the lamp, if it is the one the switchboard speaks of."""
        lit = self.record.lamp_lit if self.record else None
        if self.record is None or lit is None or asked_as(self.record.print_id, lit.exposure) != asked:
            return None
        return lit

    def _settled(self, off_s: float) -> None:
        self._watch.settled()
        self.is_stopping = False
        self._quiet(off_s)

    def _quiet(self, since_s: float) -> None:
        self.quiet_since_s = max(self.quiet_since_s, since_s)
        self.safelight.give_back()

    # --- time ---

    def next_due_s(self) -> float | None:
        """Return the next moment [boot s] at which `advance` has something to do."""
        dose_due_s = None if self.is_stopping else self.dose.due_s()
        moments = [self._watch.due_s, self._cues.next_due_s(), dose_due_s]
        return min((m for m in moments if m is not None), default=None)

    def advance(self, now_s: float) -> None:
        """Do what has fallen due, and see that no plate lies open under a lit lamp."""
        if self.may_be_lit and self._room.open_plates():
            self.darken("an open plate")
        if self.dose.is_due(now_s):
            self._put_out(BY_DOSE)
        elif self.dose.is_blind(now_s):
            self.say(
                "The light sensor is silent: the dose is reckoned by its last word", "light sensor silent"
            )
        late = self._watch.overdue(now_s)
        if late is not None:
            self._scribe.stop_exposure(late)
            self.say("The lamp should be out, but no word of it came: look at it", "lamp unanswered")
            self._scribe.play("trouble")
        for cue in self._cues.until(now_s):
            self.say(cue.words)
            self._scribe.play(cue.tune)
