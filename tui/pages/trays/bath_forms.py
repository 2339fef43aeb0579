"""The question which of several baths a plate goes into."""

from __future__ import annotations

from functools import partial

from firmware_py.facts.acts.bath import NameBath
from firmware_py.facts.views.run import LaneView, StepView
from tui.desk import Desk
from tui.pages.shared.choosing import choice
from tui.pages.shared.time_words import printable
from tui.pages.trays.words import step_after, step_here
from tui.widgets.asking import Question


def step_that_begins(lane: LaneView) -> StepView | None:
    """Return the step that begins when this run is moved on."""
    return step_here(lane) if lane.state == "ready" else step_after(lane)


def which_bath_question(lane: LaneView, desk: Desk) -> Question | None:
    """Ask which bath the step that begins is done in; None where only one can be meant."""
    step = step_that_begins(lane)
    if step is None or not step.bath_choices:
        return None
    number = lane.steps.index(step)
    deeds = {
        printable(bath): partial(desk.do, NameBath(bath=bath, step=number, lane=lane.lane))
        for bath in step.bath_choices
    }
    return choice(
        f"{printable(step.name)}, run {lane.lane}: which bath is it in? Its number:", deeds, desk.ask
    )
