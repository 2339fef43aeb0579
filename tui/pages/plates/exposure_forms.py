"""The form for a plate's exposure: one line after another, each kept by Enter as it stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from datetime import datetime

import msgspec

from firmware_py.craft.dates import Ambiguous
from firmware_py.craft.exposure_note import (
    read_extension_factor,
    read_filter_factor,
    read_given_s,
    read_light,
    read_taken,
)
from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.scene import LIGHTINGS, SKIES, SUBJECTS, subject_called
from firmware_py.craft.stops import read_stop
from firmware_py.facts.acts.plate import NoteExposure
from firmware_py.facts.events.life import ExposureNoted
from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.plates import LifeView
from tui.desk import Desk
from tui.pages.shared.time_words import printable
from tui.widgets.asking import Question

Values = Mapping[str, object]
# What is not noted; it is never taken from another plate by Enter alone where the line begins with it.
NOT_NOTED = "?"


@dataclass(frozen=True, slots=True)
class Field:
    """A line of the form: what is asked, what a note has there, and how the answer is read.

    ``stays`` from one plate to the next: what the side before got stands there at first. ``hint`` tells the
    words there are, and stands there as long as the line is asked for. ``empty`` stands there where
    nothing is known: Enter alone must not record a value that nobody noted.
    """

    words: str
    has: Callable[[ExposureNoted], str]
    read: Callable[[str, ExposureNoted], Values]
    stays: bool = True
    hint: str = ""
    empty: str = ""


def _when(text: str, before: ExposureNoted) -> Values:
    moment = datetime.fromisoformat(before.taken)
    offset = before.taken[16:] or "+00:00"
    try:
        return {"taken": read_taken(text, where="when", day=str(moment.date()), offset=offset)}
    except Ambiguous:
        raise
    except Refused:
        allowed = f'"14:10" on {moment.date()}, or "2026-06-21T14:10+02:00"'
        raise Refused(f"{shown(text)} is no hour", where="when", allowed=allowed) from None


def _light(text: str, _: ExposureNoted) -> Values:
    sky, lighting = read_light(text, where="light")
    return {"sky": sky, "lighting": lighting}


def _scene(text: str, _: ExposureNoted) -> Values:
    return {"scene": subject_called(text.casefold()).name if text else ""}


def _stop(text: str, _: ExposureNoted) -> Values:
    return {"stop": text, "f_number": read_stop(text, where="stop") if text else None}


def _time(text: str, _: ExposureNoted) -> Values:
    return {"time_s": read_given_s(text, where="time") if text else None}


def _extension(text: str, _: ExposureNoted) -> Values:
    return {"extension": text, "extension_factor": read_extension_factor(text, where="extension")}


def _filter(text: str, _: ExposureNoted) -> Values:
    return {"filters": text, "filter_factor": read_filter_factor(text, where="filter")}


FORM: tuple[Field, ...] = (
    Field("When (14:10 of that day, or the whole date)", lambda noted: noted.taken, _when),
    Field("Where (59.8N 5.2E, or a name)", lambda noted: noted.where, lambda text, _: {"where": text}),
    Field(
        "Subject, in your words", lambda noted: noted.subject, lambda text, _: {"subject": text}, stays=False
    ),
    Field(
        "Scene: one of these words, or nothing", lambda noted: noted.scene, _scene, hint=", ".join(SUBJECTS)
    ),
    Field(
        "Light: a sky and a sun (hazy side)",
        lambda noted: f"{noted.sky} {noted.lighting}".strip(),
        _light,
        hint=f"Skies: {', '.join(SKIES)}.\nSun: {', '.join(LIGHTINGS)}",
    ),
    Field(
        f"Stop (f/16, or U.S. 64; {NOT_NOTED} is not noted)",
        lambda noted: noted.stop or NOT_NOTED,
        _stop,
        stays=False,
        empty=NOT_NOTED,
    ),
    Field(
        "Time in seconds (2, 1/2), or in minutes (1:20)",
        lambda noted: f"{noted.time_s:g}" if noted.time_s is not None else "",
        _time,
        stays=False,
    ),
    Field("Extension (a factor, or draw/focus 300/210)", lambda noted: noted.extension, _extension),
    Field("Filter with its factor (yellow 4)", lambda noted: noted.filters, _filter),
    Field("Remark, in your words", lambda noted: noted.remark, lambda text, _: {"remark": text}, stays=False),
)


@dataclass(frozen=True, slots=True)
class Form:
    """A form for a plate, beginning with its own note or with that of the side before.

    ``typed`` and ``said`` are what was typed into each line so far, and what that came to.
    """

    plate: LifeView
    before: ExposureNoted
    is_own: bool
    desk: Desk
    typed: dict[int, str] = field(default_factory=dict)
    said: dict[int, Values] = field(default_factory=dict)

    def ask(self, at: int = 0) -> None:
        """Ask for the line number ``at``; what was typed there before stands there again."""
        line = FORM[at]
        start = line.has(self.before) if self.is_own or line.stays else line.empty
        words = f"{printable(self.plate.name)}, {at + 1} of {len(FORM)}. {line.words}:"
        if line.hint:
            words += f"\n{line.hint}"
        self.desk.ask(
            Question(
                words,
                lambda text: self._take(at, text),
                start=self.typed.get(at, start),
                back=(lambda text: self._go_back(at, text)) if at else None,
            )
        )

    def _go_back(self, at: int, text: str) -> None:
        self.typed[at] = text
        self.ask(at - 1)

    def _take(self, at: int, text: str) -> None:
        said = printable(text)
        self.said[at] = FORM[at].read("" if said == NOT_NOTED else said, self.before)
        self.typed[at] = text
        if at + 1 < len(FORM):
            self.ask(at + 1)
            return
        note = NoteExposure(plate=self.plate.name)
        for values in self.said.values():
            note = msgspec.structs.replace(note, **values)
        self.desk.do(note)


def ask_exposure(plate: LifeView, last: ExposureNoted | None, view: BenchView, desk: Desk) -> None:
    """Ask for the exposure of a plate, line by line; ``last`` is the note of the side before."""
    now = datetime.fromisoformat(view.utc).astimezone().isoformat(timespec="minutes")
    before = plate.exposure or last or ExposureNoted()
    if not before.taken:
        before = msgspec.structs.replace(before, taken=now)
    Form(plate, before, plate.exposure is not None, desk).ask()
