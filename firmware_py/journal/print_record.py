"""The fold of a print: what it is, made from its events alone, the same for the live page and the book."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from firmware_py.craft.lamp import effective_s
from firmware_py.craft.refusal import Refused
from firmware_py.craft.warming import WarmUp
from firmware_py.facts.events import print as pe
from firmware_py.facts.events import run as ev
from firmware_py.facts.events.event import Event
from firmware_py.journal.print_guard import WAY_OUT, problem_of
from firmware_py.journal.print_sheet import Exposure, Sheet, SheetKind
from firmware_py.journal.print_states import DOING, KEEPS_STATE, STATE_WORDS, TRANSITIONS, PrintState
from firmware_py.journal.subject_fold import first_of, replayed, require_next


@dataclass(slots=True)
class PrintRecord:
    """One negative at the lamp, folded from its entries in order.

    Impossible entries raise `Refused` with "cannot … while …" and change nothing.
    """

    print_id: str
    opened: pe.PrintOpened
    opened_utc: str
    paper: str
    grade: str
    paper_log_range: float | None
    paper_speed: float | None
    distance_mm: float | None
    boot_id: str
    boot_s: float
    utc: str
    number: int = 1
    state: PrintState = "dark"
    mode: pe.LampMode = "timed"
    base_s: float | None = None
    base_how: pe.BaseSource | None = None
    burns: list[tuple[float, str]] = field(default_factory=list)
    copies_left: int | None = None
    chosen: pe.PatchChosen | None = None
    sheets: list[Sheet] = field(default_factory=list)
    kept_lit: list[Exposure] = field(default_factory=list)
    program: pe.ProgramKept | None = None
    verdicts: list[str] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    ended: pe.PrintEnd | None = None
    _now: Exposure | None = None

    @classmethod
    def begin(cls, entry: ev.Entry) -> PrintRecord:
        """Return the print that its first entry opens."""
        opened = first_of(entry, pe.PrintOpened, "print")
        return cls(
            print_id=entry.subject,
            opened=opened,
            opened_utc=entry.utc,
            paper=opened.paper,
            grade=opened.grade,
            paper_log_range=opened.paper_log_range,
            paper_speed=opened.paper_speed,
            distance_mm=opened.distance_mm,
            boot_id=entry.boot_id,
            boot_s=entry.boot_s,
            utc=entry.utc,
        )

    @classmethod
    def replay(cls, entries: Iterable[ev.Entry]) -> PrintRecord:
        """Return the print that these entries, in order, amount to."""
        return replayed(cls.begin, entries, "print")

    def apply(self, entry: ev.Entry) -> None:
        """Take in the print's next entry."""
        next_state = self._check(entry)
        self.number, self.utc = entry.number, entry.utc
        self.boot_id, self.boot_s = entry.boot_id, entry.boot_s
        self._take(entry.event)
        self.state = next_state

    # --- what is so now ---

    @property
    def sheet(self) -> Sheet | None:
        """Get the sheet that is not finished, if one lies there."""
        return self.sheets[-1] if self.sheets and self.sheets[-1].ended is None else None

    @property
    def exposure(self) -> Exposure | None:
        """Get the exposure that is announced or goes on; the frame's, under a lamp that is kept lit."""
        return self._now

    @property
    def lamp_lit(self) -> Exposure | None:
        """Get the exposure that lights the lamp now, announced ones included."""
        if self.state in {"warm", "uncovered"}:
            return self.kept_lit[-1]
        return self._now

    @property
    def is_half_exposed(self) -> bool:
        """Get whether a sheet lies there that has got a part of its light."""
        return self.sheet is not None and self.sheet.is_touched

    def strip(self) -> Sheet | None:
        """Return the last strip that was finished."""
        strips = (s for s in reversed(self.sheets) if s.kind == "strip" and s.ended == "finished")
        return next(strips, None)

    def prints_finished(self) -> int:
        """Return how many prints were finished, strips not counted."""
        return sum(1 for sheet in self.sheets if sheet.kind != "strip" and sheet.ended == "finished")

    # --- folding ---

    def _check(self, entry: ev.Entry) -> PrintState:
        where = f"print {self.print_id}, entry {entry.number}"
        require_next(entry, self.print_id, self.number, where)
        event = entry.event
        next_state = self._next_state(event)
        problem = STATE_WORDS[self.state] if next_state is None else problem_of(self, event)
        if next_state is None or problem:
            doing = DOING.get(type(event), f"take {type(event).__name__}")
            where = f"print of {self.opened.negative!r}"
            raise Refused(f"cannot {doing} while {problem}", where=where, allowed=WAY_OUT.get(problem, ""))
        return next_state

    def _next_state(self, event: Event) -> PrintState | None:
        if self.state in KEEPS_STATE.get(type(event), frozenset()):
            return self.state
        next_state = TRANSITIONS.get((self.state, type(event)))
        is_kept_lit = self._now is not None and self._now.part == "lamp"
        return "warm" if next_state == "lit" and is_kept_lit else next_state

    def _take(self, event: Event) -> None:  # noqa: C901, PLR0912 - one line for each event
        match event:
            case pe.LampModeChosen():
                self.mode = event.mode
            case pe.StripPlanned():
                self._plan_strip(event)
            case pe.PatchChosen():
                self.chosen = event
            case pe.BaseSet():
                self.base_s, self.base_how = event.base_s, event.how
            case pe.BurnAdded():
                self.burns.append((event.stops, event.place))
            case pe.BurnRemoved():
                del self.burns[event.burn - 1]
            case pe.CopiesWanted():
                self.copies_left = event.copies
            case pe.PaperChanged():
                self.paper, self.grade = event.paper, event.grade
                self.paper_log_range, self.paper_speed = event.paper_log_range, event.paper_speed
            case pe.DistanceChanged():
                self.distance_mm = event.distance_mm
            case pe.ProgramKept():
                self.program = event
            case pe.VerdictGiven():
                self.verdicts.append(event.verdict)
            case ev.NoteWritten():
                self.notes.append(event.text)
            case pe.PrintEnded():
                self.ended = event.why
            case _:
                self._take_from_the_lamp(event)

    def _take_from_the_lamp(self, event: Event) -> None:
        match event:
            case pe.ExposureAnnounced():
                self._announce(event)
            case pe.ExposureRefused():
                self._refuse(event)
            case pe.ExposureBegan() if self._now is not None:
                self._now.on_s = event.at_s
                self._now = None if self._now.part == "lamp" else self._now
            case pe.ExposureEnded():
                self._end(event)
            case pe.FrameUncovered():
                self._uncover(event)
            case pe.FrameCovered():
                self._cover(event)
            case _:
                self._take_from_the_sheet(event)

    def _take_from_the_sheet(self, event: Event) -> None:
        match event:
            case pe.RestForgone():
                self.sheets[-1].forgone.add((event.part, event.number))
            case pe.SheetFinished():
                self._finish()
            case pe.SheetGivenUp():
                self.sheets[-1].ended = "given up"
            case pe.SheetBathed():
                self.sheets[event.sheet - 1].run_id = event.run_id
            case _:  # pragma: no cover - _check has refused it
                raise AssertionError(event)

    def _plan_strip(self, event: pe.StripPlanned) -> None:
        if self.sheet is not None:
            self.sheets.pop()  # a strip that no light has touched is only planned anew
        self.sheets.append(
            Sheet(
                len(self.sheets) + 1,
                "strip",
                patches_s=event.patches_s,
                step_stops=event.step_stops,
                method=event.method,
            )
        )

    def _announce(self, event: pe.ExposureAnnounced) -> None:
        exposure = Exposure(
            exposure=event.exposure,
            part=event.part,
            number=event.number,
            rest=event.rest,
            wanted_s=event.effective_s,
            planned_s=event.on_time_s,
            ceiling_s=event.ceiling_s,
        )
        self._now = exposure
        if event.part == "lamp":
            self.kept_lit.append(exposure)
        else:
            self._sheet_for(event.part).exposures.append(exposure)

    def _sheet_for(self, part: pe.Part) -> Sheet:
        if self.sheet is None:
            kind: SheetKind = "bulb" if part == "bulb" else "print"
            self.sheets.append(Sheet(len(self.sheets) + 1, kind, base_s=self.base_s))
        return self.sheets[-1]

    def _refuse(self, event: pe.ExposureRefused) -> None:
        self._now = None
        if self.kept_lit and self.kept_lit[-1].exposure == event.exposure:
            self.kept_lit.pop()
            return
        sheet = self.sheets[-1]
        sheet.exposures.pop()
        if not sheet.exposures and sheet.kind != "strip":
            self.sheets.pop()

    def _end(self, event: pe.ExposureEnded) -> None:
        ended = self.lamp_lit
        if ended is None:  # pragma: no cover - _check has refused it
            raise AssertionError(event)
        ended.on_s, ended.off_s, ended.doubt_s = event.on_s, event.off_s, event.doubt_s
        ended.why, ended.stopped_by = event.why, event.stopped_by
        if ended.part != "lamp":
            by_time_s = effective_s(max(0.0, ended.lasted_s), self.opened.lag_s)
            ended.effective_s = by_time_s if event.dose_s is None else event.dose_s
        self._now = None

    def _uncover(self, event: pe.FrameUncovered) -> None:
        self._now = Exposure(
            exposure=event.exposure,
            part=event.part,
            number=event.number,
            rest=event.rest,
            wanted_s=event.effective_s,
            by_hand=True,
            on_s=event.at_s,
        )
        self._sheet_for(event.part).exposures.append(self._now)

    def _cover(self, event: pe.FrameCovered) -> None:
        covered = self._now
        if covered is None or covered.on_s is None:  # pragma: no cover - _check has refused it
            raise AssertionError(event)
        covered.off_s, covered.why = max(covered.on_s, event.at_s), event.why
        covered.effective_s = self.dose_s(covered.on_s, covered.off_s)
        self._now = None

    def dose_s(self, from_s: float, to_s: float) -> float:
        """Return the seconds of full light [s] between two moments [boot s] under the lamp kept lit now."""
        lit_s = self.kept_lit[-1].on_s if self.kept_lit else None
        if not self.opened.warm_up or lit_s is None:
            return to_s - from_s
        return WarmUp(self.opened.warm_up).dose_s(max(0.0, from_s - lit_s), max(0.0, to_s - lit_s))

    def _finish(self) -> None:
        self.sheets[-1].ended = "finished"
        if self.sheets[-1].kind != "strip" and self.copies_left is not None:
            self.copies_left = max(0, self.copies_left - 1)
