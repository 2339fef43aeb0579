"""What a page may ask of the screen it stands on."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from firmware_py.facts.acts.run import AnyAct
from firmware_py.facts.views.bench import BenchView
from firmware_py.service.book_questions import AnyAnswer, AnyQuestion
from tui.moment import Moment
from tui.pages.shared.page_names import PageName
from tui.widgets.asking import Question


class Desk(Protocol):
    """The screen, as a page sees it."""

    @property
    def view(self) -> BenchView | None:
        """Get the bench as last seen."""
        ...

    @property
    def is_black(self) -> bool:
        """Get whether the screen shows nothing, for a plate that bears no light."""
        ...

    @property
    def state(self) -> Path:
        """Get the folder in which the screen keeps what it remembers."""
        ...

    def moment(self) -> Moment:
        """Return what a page needs to draw itself now."""
        ...

    def own_s(self, bench_s: float) -> float:
        """Return how long ``bench_s`` seconds of the bench take on the screen's own clock [s]."""
        ...

    def do(
        self,
        *acts: AnyAct,
        hold_s: float = 0.0,
        press: object = None,
        again: bool = False,
        then: Callable[[], None] | None = None,
    ) -> None:
        """Ask the bench for acts, ``hold_s`` [s] apart, unless it is the same ``press`` still held down.

        ``press`` is the first act if not said; ``again`` lets even the same press count once more; ``then``
        follows once all is done and in the book.
        """
        ...

    def look_up(
        self,
        question: AnyQuestion,
        then: Callable[[AnyAnswer], None],
        *,
        asks: bool = False,
        quiet: bool = False,
    ) -> None:
        """Ask the book; ``then`` gets the answer, and a refusal is said, unless the question is ``quiet``.

        Where ``then`` ``asks`` something, the keys pressed meanwhile are kept for that question.
        """
        ...

    def say(self, words: str) -> None:
        """Say something of the screen's own for a while."""
        ...

    def ask(self, question: Question) -> None:
        """Open a question at the foot of the page."""
        ...

    def turn_to(self, page: PageName) -> None:
        """Turn to another page, without the foot."""
        ...

    def draw(self) -> None:
        """Draw the page on top anew."""
        ...
