"""The form for a plate's exposure: one line after another, each kept by Enter as it stands."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import datetime

import msgspec

from firmware_py.craft.exposure_note import (
    read_extension_factor,
    read_filter_factor,
    read_given_s,
    read_light,
    read_taken,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.scene import LIGHTINGS, SKIES, SUBJECTS, subject_called
from firmware_py.craft.stops import read_stop
from firmware_py.service.shapes import BenchView, ExposureNoted, LifeView, NoteExposure
from tui.desk import Desk
from tui.widgets.asking import Question
from tui.words.times import printable

Values = Mapping[str, object]


@dataclass(frozen=True, slots=True)
class Field:
    """A line of the form: what is asked, what a note has there, and how the answer is read.

    ``stays`` from one plate to the next: what the side before got stands there at first. ``hint`` tells the
    words there are, and stands there as long as the line is asked for.
    """

    words: str
    has: Callable[[ExposureNoted], str]
    read: Callable[[str, ExposureNoted], Values]
    stays: bool = True
    hint: str = ""


def _when(text: str, before: ExposureNoted) -> Values:
    moment = datetime.fromisoformat(before.taken)
    offset = before.taken[16:] or "+00:00"
    return {"taken": read_taken(text, where="when", day=str(moment.date()), offset=offset)}


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
    Field("When (14:10, or the whole date)", lambda noted: noted.taken, _when),
    Field("Where (59.8N 5.2E, or a name)", lambda noted: noted.where, lambda text, _: {"where": text}),
    Field("Subject", lambda noted: noted.subject, lambda text, _: {"subject": text}, stays=False),
    Field("Scene (street)", lambda noted: noted.scene, _scene, hint=f"Scenes: {', '.join(SUBJECTS)}"),
    Field(
        "Light: sky and sun (hazy side)",
        lambda noted: f"{noted.sky} {noted.lighting}".strip(),
        _light,
        hint=f"Skies: {', '.join(SKIES)}.\nSun: {', '.join(LIGHTINGS)}",
    ),
    Field("Stop (f/16, or U.S. 64)", lambda noted: noted.stop, _stop),
    Field(
        "Time (2, 1/2, or 1:20)",
        lambda noted: f"{noted.time_s:g}" if noted.time_s is not None else "",
        _time,
        stays=False,
    ),
    Field("Extension (a factor, or draw/focus 300/210)", lambda noted: noted.extension, _extension),
    Field("Filter with its factor (yellow 4)", lambda noted: noted.filters, _filter),
    Field("Remark", lambda noted: noted.remark, lambda text, _: {"remark": text}, stays=False),
)


@dataclass(frozen=True, slots=True)
class Form:
    """A form for a plate, beginning with its own note or with that of the side before."""

    plate: LifeView
    before: ExposureNoted
    is_own: bool
    desk: Desk

    def ask(self, at: int = 0, said: Values | None = None, typed: str | None = None) -> None:
        """Ask for the line number ``at``; ``said`` is what the lines before came to."""
        field, said = FORM[at], said or {}
        start = field.has(self.before) if self.is_own or field.stays else ""
        words = f"{printable(self.plate.name)}, {at + 1} of {len(FORM)}. {field.words}:"
        if field.hint:
            words += f"\n{field.hint}"

        def answered(text: str) -> None:
            self._take(at, said, text)

        self.desk.ask(Question(words, answered, start=start if typed is None else typed))

    def _take(self, at: int, said: Values, text: str) -> None:
        try:
            said = {**said, **FORM[at].read(printable(text), self.before)}
        except Refused as refusal:
            self.desk.say(f"No: {refusal.line}")
            self.ask(at, said, typed=text)
            return
        if at + 1 < len(FORM):
            self.ask(at + 1, said)
        else:
            self.desk.do(msgspec.structs.replace(NoteExposure(plate=self.plate.name), **said))


def ask_exposure(plate: LifeView, last: ExposureNoted | None, view: BenchView, desk: Desk) -> None:
    """Ask for the exposure of a plate, line by line; ``last`` is the note of the side before."""
    now = datetime.fromisoformat(view.utc).astimezone().isoformat(timespec="minutes")
    before = plate.exposure or last or ExposureNoted()
    if not before.taken:
        before = msgspec.structs.replace(before, taken=now)
    Form(plate, before, plate.exposure is not None, desk).ask()
