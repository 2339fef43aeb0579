"""The questions that correct a run opened with the wrong plate."""

from __future__ import annotations

from functools import partial

from firmware_py.facts.acts.run import CorrectPlate
from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.run import LaneView
from tui.desk import Desk
from tui.pages.plates.words import waiting_plates
from tui.pages.shared.choosing import choice
from tui.pages.shared.reading import read_name
from tui.pages.shared.time_words import printable
from tui.pages.trays.forms import ANOTHER, named_plate
from tui.widgets.asking import MOST_CHOICES, Question


def wrong_plate_question(lane: LaneView, view: BenchView, desk: Desk) -> Question:
    """Ask which plate of the tray is wrong, where there are several, then which is the right one."""
    if len(lane.plates) < 2:
        return _right_plate_question(lane, 0, view, desk)
    deeds = {
        printable(name): partial(lambda at: desk.ask(_right_plate_question(lane, at, view, desk)), at)
        for at, name in enumerate(lane.plates)
    }
    return choice(f"Tray {lane.lane}. Which plate is wrong? Its number:", deeds, desk.ask)


def _right_plate_question(lane: LaneView, at: int, view: BenchView, desk: Desk) -> Question:
    """Ask which of the exposed plates of the book is in the tray instead; else for the name of the plate."""
    typing = _name_question(lane, at, desk)
    waiting = waiting_plates(view.plates)[-MOST_CHOICES + 1 :]
    named = {named_plate(plate): plate.name for plate in waiting}
    if not named:
        return typing

    def chosen(words: str) -> None:
        if words == ANOTHER:
            desk.ask(typing)
        else:
            desk.do(_correction(lane, at, named[words]))

    wrong = printable(_named_now(lane)[at])
    words = f"Tray {lane.lane} has {wrong}. Which plate is it instead? Its number:"
    return Question(words, chosen, choices=(*named, ANOTHER))


def _name_question(lane: LaneView, at: int, desk: Desk) -> Question:
    wrong = printable(_named_now(lane)[at])

    def named(text: str) -> None:
        name = read_name(printable(text), where="plate", example="spring/2")
        desk.do(_correction(lane, at, name))

    return Question(f"Tray {lane.lane}. Correct the plate, then Enter:", named, start=wrong)


def _correction(lane: LaneView, at: int, name: str) -> CorrectPlate:
    first, *others = (name if n == at else one for n, one in enumerate(_named_now(lane)))
    return CorrectPlate(plate=first, others=tuple(others), lane=lane.lane)


def _named_now(lane: LaneView) -> tuple[str, ...]:
    return lane.plates or (lane.plate,)
