"""The question which mark, by the key of each: for keys that the page itself has another use for."""

from __future__ import annotations

from firmware_py.facts.acts.run import Mark
from firmware_py.facts.views.run import LaneView
from tui.pages.shared.time_words import printable
from tui.pages.trays.forms import Do
from tui.pages.trays.mark_words import keyed_marks
from tui.widgets.asking import Question


def mark_question(lane: LaneView, do: Do) -> Question:
    """Ask which mark shows on the plate."""
    marks = keyed_marks(lane)

    def made(what: str) -> None:
        do(Mark(what=what, lane=lane.lane))

    return Question(
        f"What shows on {printable(lane.plate)}? Its key:",
        made,
        choices=tuple(marks.values()),
        choice_keys=tuple(marks),
    )
