"""The questions of the Daylight page."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import datetime
from types import MappingProxyType

from firmware_py.craft.dates import read_date
from firmware_py.craft.stops import name_of_stop, read_stop
from tui.pages.daylight.outing_words import LONGEST, OutingWords, spoken_hour
from tui.pages.shared.time_words import printable
from tui.widgets.asking import Question

Change = Callable[[OutingWords], None]
KINDS: Mapping[str, str] = MappingProxyType(
    {"blue-sensitive": "blue", "orthochromatic": "ortho", "panchromatic": "pan"}
)
TYPED: Mapping[int, tuple[str, str]] = MappingProxyType(
    {
        1: ("place", "The place (56.05N 2.72W), then Enter:"),
        2: ("day", "The date (2031-05-04, tomorrow, 4 May), then Enter:"),
        3: ("hour", "The hour (11:30 or 4 pm by this clock, 11:30+01:00, or 11:30 sun), then Enter:"),
        6: ("stop", "The stop (16 or f/16, or U.S. 64), then Enter:"),
        7: ("magnification", "Image size over object size (1/4; nothing: far off), then Enter:"),
        8: ("factor", "Filter: how many times longer (3; nothing: none), then Enter:"),
    }
)


def question(
    number: int,
    words: OutingWords,
    ask: Callable[[Question], None],
    change: Change,
    now: datetime | None,
) -> Question:
    """Return the question for the field of that number, 1 to 9; "tomorrow" counts from ``now``."""
    if number in TYPED:
        name, asked = TYPED[number]
        return typed(name, asked, words, change, now)
    if number == 4:
        return _sky(words, change)
    return _kind(words, ask, change) if number == 5 else _subject(words, ask, change)


def typed(name: str, asked: str, words: OutingWords, change: Change, now: datetime | None = None) -> Question:
    """Ask for a field in words, beginning with what stands there."""

    def said(text: str) -> None:
        change(replace(words, **{name: _read(name, printable(text)[:LONGEST], now)}))

    return Question(asked, said, start=str(getattr(words, name)))


def _read(name: str, text: str, now: datetime | None) -> str:
    """Return a date, an hour or a stop as the page keeps it, whatever way it was said; the rest as it is."""
    if not text.strip():
        return text
    match name:
        case "day":
            return read_date(text, now=now, where="date").isoformat()
        case "hour":
            return spoken_hour(text)
        case "stop":
            return name_of_stop(read_stop(text, where="stop")) if text.strip().isdecimal() else text
    return text


def _sky(words: OutingWords, change: Change) -> Question:
    from firmware_py.craft.scene import SKIES

    named = {sky.words: sky.name for sky in SKIES.values()}
    return Question(
        "The sky. Its number:", lambda said: change(replace(words, sky=named[said])), choices=tuple(named)
    )


def _kind(words: OutingWords, ask: Callable[[Question], None], change: Change) -> Question:
    def said(kind: str) -> None:
        asked = "Its index (f/16 at 1/index s in bright sun, as 3), then Enter:"
        ask(typed("index", asked, replace(words, kind=KINDS[kind]), change))

    return Question("What is the plate sensitive to? Its number:", said, choices=tuple(KINDS))


def _subject(words: OutingWords, ask: Callable[[Question], None], change: Change) -> Question:
    from firmware_py.craft.scene import LIGHTINGS, SUBJECTS

    # Ten of them: the rarest, a copy laid flat, is left to the command line.
    named = {subject.words: subject.name for subject in SUBJECTS.values() if subject.name != "level"}
    lights = {f"{light} light" if light != "shade" else "open shade": light for light in LIGHTINGS}

    def said(subject: str) -> None:
        chosen = replace(words, subject=named[subject], lighting="front")
        if chosen.subject == "wood":
            change(chosen)
            return
        lit = Question(
            "Where does the light come from? Its number:",
            lambda light: change(replace(chosen, lighting=lights[light])),
            choices=tuple(lights),
        )
        ask(lit)

    return Question("What is before the camera? Its number:", said, choices=tuple(named))
