"""The print that is open, on paper: opened, written on, ended; what the lamp does is no matter here."""

from __future__ import annotations

from firmware_py.bench.lamp.next_exposure import next_exposure
from firmware_py.bench.lamp.programs import Programs
from firmware_py.bench.matters import Kind
from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import print as pe
from firmware_py.facts.events.run import NoteWritten
from firmware_py.journal.print_record import PrintRecord


class PrintDesk:
    """One print at a time, with the programs kept; ``interrupted`` says what happened to it before."""

    def __init__(self, scribe: Scribe, notices: Notices) -> None:
        self.record: PrintRecord | None = None
        self.opened: list[str] = []
        self.programs = Programs()
        self.interrupted = ""
        self._scribe = scribe
        self._notices = notices

    def here(self) -> PrintRecord:
        """Return the print that is open. Raises Refused where none is."""
        if self.record is None or self.record.state == "ended":
            raise Refused("no print is open", where="lamp", allowed="open a print")
        return self.record

    @property
    def is_open(self) -> bool:
        """Get whether a print is open."""
        return self.record is not None and self.record.state != "ended"

    def missing(self) -> str:
        """Return what is wanting before anything can be exposed, or nothing."""
        record = self.here()
        if record.state != "dark" or record.mode == "kept lit":
            return ""
        try:
            next_exposure(record)
        except Refused as refusal:
            return refusal.line
        return ""

    def write(self, event: pe.AnyPrintEvent) -> None:
        """Write the open print's next event. Raises Refused where it can not happen now."""
        self._scribe.write(self.here(), event)

    def say(self, words: str, kind: Kind = "lamp") -> None:
        """Let the words about the lamp be these."""
        self._notices.say(kind, words, self._now_s())

    def unsay(self, words: str) -> None:
        """Let these very words rest, if they still stand."""
        if self._notices.stands("lamp", words):
            self._notices.clear("lamp")

    # --- opening and ending ---

    def open(self, opened: pe.PrintOpened) -> None:
        """Begin to print a negative; another print that is open is ended by it."""
        if self.is_open:
            self.end("another print")
        self.record = self._scribe.open_print(opened)
        self.opened.append(self.record.print_id)
        self._notices.clear("lamp")

    def leave_behind(self) -> None:
        """End the open print whatever lies there, to take up a newer one."""
        sheet = self.here().sheet
        if sheet is not None:
            self.write(pe.SheetGivenUp(sheet=sheet.number))
        self.write(pe.PrintEnded(why="another print"))

    def end(self, why: pe.PrintEnd = "done") -> None:
        """End the work on the open print. Raises Refused while a sheet is half exposed or the lamp is lit."""
        record = self.here()
        if record.state == "dark" and record.sheet is not None and not record.sheet.is_touched:
            self.write(pe.SheetGivenUp(sheet=record.sheet.number))
        self.write(pe.PrintEnded(why=why))

    def remark(self, event: pe.VerdictGiven | NoteWritten) -> None:
        """Write a verdict or a remark on the last print, which may be over. Raises Refused without one."""
        if self.record is None:
            raise Refused("there is no print", where="lamp", allowed="open a print")
        self._scribe.write(self.record, event)

    def _now_s(self) -> float:
        return self._scribe.clock.now_s()
