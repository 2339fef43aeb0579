"""The bench's side of the lamp: which acts, edges and reports go there, and what they mean for the trays."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal, Protocol

from firmware_py.bench.foot import Foot, Press
from firmware_py.bench.lamp.lamp_foot import LampFoot
from firmware_py.bench.lamp.lamp_rule import LampRule
from firmware_py.bench.lamp.print_doing import do_at_the_lamp
from firmware_py.bench.lamp.print_resume import Traces
from firmware_py.bench.lamp.print_sheets import bathe
from firmware_py.bench.lamp.printing import Darkroom, Printing
from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.runs import Runs
from firmware_py.craft.refusal import Refused
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.facts.acts import print as pa
from firmware_py.facts.acts.run import OpenRun
from firmware_py.facts.events import print as pe
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_sheet import Sheet
from firmware_py.switchboard.reports import ExposureBegan, ExposureEnded


class House(Darkroom, Protocol):
    """The rest of the bench, where the paper goes."""

    def open_run(self, act: OpenRun) -> Lane:
        """Lay a plate, or the paper of a print, ready for a routine; return its lane."""
        ...


class LampSide:
    """The printing session with its foot, and what of it touches the trays.

    ``serves`` says whom the foot serves.
    """

    def __init__(
        self, rule: LampRule, *, foot: Foot, runs: Runs, scribe: Scribe, notices: Notices, room: House
    ) -> None:
        self.serves: Literal["lamp", "trays"] = "trays"
        self.printing = Printing(rule, scribe, notices, room)
        self.foot = LampFoot(self.printing, foot)
        self._runs = runs
        self._room = room
        self._has_the_foot = False

    # --- acts ---

    def do(self, act: pa.AnyPrintAct, *, rehearsal: bool) -> None:
        """Do what a person asks at the lamp, or raise Refused and change nothing."""
        match act:
            case pa.ServeFoot():
                self.serves = act.to
            case pa.OpenPrint():
                self.printing.open(self._opened(act, rehearsal=rehearsal))
            case pa.BatheSheet():
                self._bathe(act)
            case _:
                do_at_the_lamp(self.printing, act)

    def resume(self, records: Sequence[PrintRecord], traces: Traces) -> None:
        """Take up the newest of the prints left open, oldest first; those before it are over."""
        for record in records:
            if self.printing.record is not None:
                self.printing.leave_behind()
            self.printing.resume(record, traces)

    def plate_laid_open(self, plate: str) -> None:
        """Take in that a plate was just laid open: the lamp goes out first (interlock 1)."""
        self.printing.darken(f"plate {plate!r} being opened")

    def _opened(self, act: pa.OpenPrint, *, rehearsal: bool) -> pe.PrintOpened:
        rule = self.printing.rule
        return pe.PrintOpened(
            negative=act.negative,
            run_id=act.run_id or self._runs.run_of(act.negative),
            paper=act.paper,
            grade=act.grade,
            paper_log_range=act.paper_log_range,
            paper_speed=act.paper_speed,
            distance_mm=act.distance_mm or rule.distance_mm,
            lamp=rule.name,
            lag_s=rule.lag.lag_s,
            lag_doubt_s=rule.lag.uncertain_s,
            shortest_s=rule.lag.tried_from_s,
            mains_Hz=rule.mains_Hz,
            warm_up=rule.warm_up,
            rehearsal=rehearsal,
        )

    def _bathe(self, act: pa.BatheSheet) -> None:
        record = self.printing.here()
        finished = [s for s in record.sheets if s.ended == "finished" and act.sheet in {None, s.number}]
        if not finished:
            raise Refused("no finished sheet waits for its baths", where="bathe", allowed="finish a sheet")
        sheet = finished[-1]
        if sheet.run_id is not None:
            what = f"sheet {sheet.number} is in its baths already"
            raise Refused(what, where="bathe", allowed="another finished sheet")
        routine = act.routine or self._runs.first_routine_for_paper()
        self._runs.require_routine_for_paper(routine)
        lane = self._room.open_run(OpenRun(plate=_sheet_words(record, sheet), routine=routine))
        bathe(self.printing, sheet, lane.record.run_id)
        self._runs.proceed(lane)

    # --- foot ---

    @property
    def has_the_next_press(self) -> bool:
        """Get whether a foot that comes down now acts at the lamp."""
        return self.serves == "lamp" or self.printing.is_exposing

    def takes(self, edge: FootEdge) -> bool:
        """Return whether an edge is for the lamp: a lift is for whom the foot came down for."""
        if edge.down:
            self._has_the_foot = self.has_the_next_press
        return self._has_the_foot

    def takes_press(self, press: Press | None, now_s: float) -> bool:
        """Take in a long press that has lasted long enough; return whether it was for the lamp."""
        if self._has_the_foot:
            self.foot.advance(press, now_s)
        return self._has_the_foot

    # --- what the switchboard says ---

    def began(self, report: ExposureBegan) -> None:
        """Take in that the lamp was lit."""
        self.printing.began(report)

    def ended(self, report: ExposureEnded) -> None:
        """Take in that the lamp went out."""
        self.printing.ended(report)


def _sheet_words(record: PrintRecord, sheet: Sheet) -> str:
    kind = "strip" if sheet.kind == "strip" else "print"
    alike = [s for s in record.sheets[: sheet.number] if (s.kind == "strip") == (sheet.kind == "strip")]
    return f"{record.opened.negative}, {kind} {len(alike)}"
