"""The question which mark, by the key of each: for keys that the page itself has another use for."""

from __future__ import annotations

from firmware_py.service.shapes import LaneView, Mark
from tui.asks.trays import Do
from tui.widgets.asking import Question
from tui.words.marks import keyed_marks
from tui.words.times import printable


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
