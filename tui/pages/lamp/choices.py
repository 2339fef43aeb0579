"""What can be chosen by number at the lamp: only what can be done now is offered."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import get_args

from firmware_py.facts.acts.print import (
    BatheSheet,
    ChooseLampMode,
    EndPrint,
    FinishSheet,
    ForgoRest,
    GiveUpSheet,
    RemoveBurn,
    UseProgram,
)
from firmware_py.facts.events.print import LampMode
from firmware_py.facts.views.print import BurnView, PrintView, ProgramView
from tui.desk import Desk
from tui.pages.lamp import forms as asks
from tui.pages.lamp.print_words import seconds, stops_words
from tui.pages.lamp.words import sheets_for_baths, strip_to_choose_from
from tui.pages.shared.choosing import choice
from tui.pages.shared.time_words import printable
from tui.widgets.asking import Question

Deeds = dict[str, Callable[[], None]]
MODES: dict[LampMode, str] = {
    "timed": "by time",
    "bulb": "by foot alone: on as long as the foot is down",
    "kept lit": "kept lit, a hand uncovers and covers the frame",
}

SHEETS = {"strip": "a test strip", "print": "a print", "bulb": "by foot alone"}


def sheet_question(here: PrintView, desk: Desk) -> Question:
    """Ask what becomes of the sheet under the lamp."""
    sheet = here.sheet
    deeds: Deeds = {}
    if sheet is not None and sheet.owed:
        deeds[f"leave {printable(sheet.owed)} as it is"] = lambda: desk.do(ForgoRest())
    if sheet is not None and sheet.half_exposed:
        deeds["call the sheet finished"] = lambda: desk.do(FinishSheet())
    deeds["give the sheet up"] = lambda: desk.do(GiveUpSheet())
    return choice("The sheet under the lamp:", deeds, desk.ask)


def bath_question(here: PrintView, desk: Desk, then: Callable[[], None]) -> Question:
    """Ask which of the finished sheets is in its first bath now; ``then`` follows once that is kept."""
    deeds: Deeds = {}
    for sheet in sheets_for_baths(here):
        words = f"sheet {sheet.sheet}, {SHEETS[sheet.kind]}, {seconds(sheet.effective_s)}"
        deeds[words] = partial(desk.do, BatheSheet(sheet=sheet.sheet), then=then)
    return choice("Which sheet is in its bath? Its number:", deeds, desk.ask)


def more_question(here: PrintView, desk: Desk) -> Question:
    """Ask which of the rarer things is wanted."""
    # What can always be done comes first and keeps its number, for a hand that knows it in the dark.
    deeds: Deeds = {
        "another distance of the lamp": lambda: desk.ask(asks.distance_question(desk)),
        "another paper": lambda: desk.ask(asks.paper_question(desk)),
        "use the lamp by time, by foot, or kept lit": lambda: desk.ask(mode_question(desk)),
        "a verdict": lambda: desk.ask(asks.verdict_question(desk)),
        "end this print": lambda: desk.ask(_end(here, desk)),
    }
    if here.program is not None:
        deeds[_program_words(here.program)] = lambda: desk.do(UseProgram())
    if strip_to_choose_from(here):
        deeds["a place between two patches is right"] = lambda: desk.ask(asks.between_question(desk))
    if here.burns:
        deeds["take a burn back"] = lambda: desk.ask(_burns(here.burns, desk))
    return choice("More:", deeds, desk.ask)


def over_question(last: PrintView, desk: Desk) -> Question:
    """Ask what is wanted of the last print, which is over."""
    deeds: Deeds = {
        "a verdict": lambda: desk.ask(asks.verdict_question(desk)),
        "a note": lambda: desk.ask(asks.note_question(desk)),
    }
    return choice(f"On the last print, {printable(last.negative)}:", deeds, desk.ask)


def _program_words(program: ProgramView) -> str:
    count = len(program.burns)
    burns = "no burns" if not count else "1 burn" if count == 1 else f"{count} burns"
    return f"use the program kept: base {seconds(program.base_now_s)}, {burns}"


def mode_question(desk: Desk) -> Question:
    """Ask how the lamp is to be used."""

    def use(mode: LampMode) -> Callable[[], None]:
        return lambda: desk.do(ChooseLampMode(mode=mode))

    return choice("Use the lamp:", {MODES[mode]: use(mode) for mode in get_args(LampMode)}, desk.ask)


def _burns(burns: tuple[BurnView, ...], desk: Desk) -> Question:
    def take_back(burn: BurnView) -> Callable[[], None]:
        return lambda: desk.do(RemoveBurn(burn=burn.burn))

    deeds = {
        f"burn {burn.burn}: {stops_words(burn.stops)} {printable(burn.place)}": take_back(burn)
        for burn in burns
    }
    return choice("Take back which burn?", deeds, desk.ask)


def _end(here: PrintView, desk: Desk) -> Question:
    words = f"End the work at the lamp on {printable(here.negative)}? The book keeps it."
    return Question(words, lambda _: desk.do(EndPrint()))
