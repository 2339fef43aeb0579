"""Invented pages for the tests of the sheets, and what a reader finds on a printed one."""

from __future__ import annotations

from html.parser import HTMLParser

from firmware_py.facts.events.run import AnyEvent, MarkMade, NoteWritten, RunOpened
from firmware_py.journal.print_outcome import PrintOutcome, print_outcome
from firmware_py.journal.print_record import PrintRecord
from firmware_py.report.sheets.history import History, history_of
from firmware_py.report.sheets.page import Page
from firmware_py.report.sheets.run_sheet import run_page
from tests.journal.making import ROUTINE, numbered, run_entries, subject
from tests.journal.making_prints import print_entries

RUN = subject(7)
HOSTILE = "<script>alert(1)</script> {{ 7 * 7 }} \"onload='x' ]]> --> $\\frac{1}{ & \x1b[31m\u202e"


def a_history(*notes: str, rehearsal: bool = True, ended: bool = True) -> History:
    """Return a run with two marks and these notes."""
    entries = run_entries(RUN, ended=ended)
    happened: list[tuple[float, AnyEvent]] = [(entry.boot_s - 1000.0, entry.event) for entry in entries]
    happened[0] = (0.0, RunOpened(plate="half plate 7", tray="tray 1", routine=ROUTINE, rehearsal=rehearsal))
    happened.append((200.0, MarkMade(what="shadow detail shows", bath_degC=20.1)))
    last_s = happened[-2][0] if not ended else 2000.0
    happened += [(last_s + n, NoteWritten(text=note)) for n, note in enumerate(notes, 1)]
    return history_of(numbered(RUN, sorted(happened, key=lambda pair: pair[0])))


def a_print() -> PrintOutcome:
    """Return a print with every kind of event."""
    return print_outcome(PrintRecord.replay(print_entries(subject(8))))


def a_page(*notes: str) -> Page:
    """Return the sheet of that run, its print on it."""
    return run_page(a_history(*notes), [a_print()])


class Read(HTMLParser):
    """What a browser would find: the text, the tags, and every attribute."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: list[tuple[str, str | None]] = []
        self.texts: list[str] = []
        self.feed(html)
        self.close()

    @property
    def text(self) -> str:
        return " ".join(" ".join(self.texts).split())

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes += attrs

    def handle_data(self, data: str) -> None:
        self.texts.append(data)
