"""What the keys of the Logbook page do: they turn the pages of the book, and ask it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Literal

from firmware_py.journal.box_advice import BoxAdvice
from firmware_py.journal.outcome import RunOutcome
from firmware_py.journal.run_list import LONGEST_SEARCH
from firmware_py.service.book_questions import (
    Advised,
    AnyAnswer,
    AskAdvice,
    FindRuns,
    OpenPage,
    PageOpened,
    RunLine,
    RunsFound,
)
from tui.pages.logbook.verdict_forms import verdict_question
from tui.pages.shared.deeds import AtDesk
from tui.pages.shared.time_words import printable
from tui.widgets.asking import Question

Leaf = Literal["list", "run", "comparison", "advice"]
# More is fetched when fewer than this are left below the one chosen.
AHEAD = 15


class LogbookDeeds(AtDesk):
    """The acts behind the keys of the Logbook page, and what of the book lies open."""

    def __init__(self) -> None:
        super().__init__()
        self.leaf: Leaf = "list"
        self.words = ""
        self.found: list[RunLine] = []
        self.at = 0
        self.is_more = False
        self.is_read = False
        self.page: PageOpened | None = None
        self.kept: PageOpened | None = None
        self.advised: BoxAdvice | None = None

    @property
    def rows(self) -> int:
        """Get how many runs the list shows at once."""
        return 10

    @property
    def run(self) -> RunLine | None:
        """Get the run that is chosen."""
        return self.found[self.at] if self.found else None

    # --- the list ---

    def read_list(self) -> None:
        """Ask for the list from its beginning."""
        self.desk.look_up(FindRuns(words=self.words), self._take_list)

    def _take_list(self, answer: AnyAnswer) -> None:
        if isinstance(answer, RunsFound):
            chosen = self.run.run_id if self.run is not None else ""
            self.found, self.is_more, self.is_read = list(answer.runs), answer.more, True
            self.at = next((n for n, run in enumerate(self.found) if run.run_id == chosen), 0)

    def _take_more(self, answer: AnyAnswer) -> None:
        if isinstance(answer, RunsFound):
            known = {run.run_id for run in self.found}
            self.found += [run for run in answer.runs if run.run_id not in known]
            self.is_more = answer.more

    def action_find(self) -> None:
        """Ask for words to find runs by."""

        def typed(text: str) -> None:
            self.words, self.at, self.leaf, self.found = printable(text)[:LONGEST_SEARCH], 0, "list", []
            self.read_list()

        words = "Find (plate, box, developer, 2026-05, verdict, note); nothing typed: all. Then Enter:"
        self.desk.ask(Question(words, typed, start=self.words))

    def action_next_run(self) -> None:
        """Choose the next run."""
        self._step(1)

    def action_previous_run(self) -> None:
        """Choose the run before."""
        self._step(-1)

    def action_next_screen(self) -> None:
        """Choose a run a screenful further down."""
        self._step(self.rows)

    def action_previous_screen(self) -> None:
        """Choose a run a screenful further up."""
        self._step(-self.rows)

    def _step(self, by: int) -> None:
        self.at = max(0, min(len(self.found) - 1, self.at + by))
        if self.is_more and self.found and len(self.found) - self.at < AHEAD:
            after = self.found[-1].run_id
            self.desk.look_up(FindRuns(words=self.words, after=after), self._take_more)
        if self.leaf == "run":
            self.action_open_run()
        self.desk.draw()

    # --- a run ---

    def action_open_run(self) -> None:
        """Open the run that is chosen."""
        if self.leaf in {"list", "run"}:
            self._open(self._show_run)

    def _show_run(self, page: PageOpened) -> None:
        self.page, self.leaf = page, "run"

    def _open(self, then: Callable[[PageOpened], None], *, asks: bool = False) -> None:
        def take(answer: AnyAnswer) -> None:
            if isinstance(answer, PageOpened):
                then(answer)

        if self.run is not None:
            self.desk.look_up(OpenPage(run=self.run.run_id), take, asks=asks)

    def action_back(self) -> None:
        """Back to the list."""
        self.leaf = "list"
        self.desk.draw()

    def action_compare(self) -> None:
        """Keep the run that is chosen, or compare it with the one that was kept."""
        if self.leaf == "comparison":
            self.leaf = "list"
        self._open(self._keep_or_compare)

    def _keep_or_compare(self, page: PageOpened) -> None:
        kept = self.kept
        if kept is None or kept.run.run_id == page.run.run_id:
            self.kept, self.leaf = page, "list"
            self.desk.say(f"Kept for comparing: {printable(page.run.plate)}. C on another run compares")
        else:
            self.page, self.leaf = page, "comparison"

    # --- verdict and advice ---

    def action_verdict(self) -> None:
        """Ask how the plate of the run that is chosen came out."""
        self._open(self._judge, asks=True)

    def _judge(self, page: PageOpened) -> None:
        if page.run.sheet == "paper":
            self.desk.say("A print is judged on the Lamp page: M, a verdict")
        elif page.run.state != "ended":
            self.desk.say("The run is not over: a plate is judged when it is dry")
        else:
            self.desk.ask(verdict_question(page.run.run_id, page.run.plates, self.desk, self._judged))

    def _judged(self) -> None:
        self.desk.say("The verdict is in the book")
        self.read_list()
        if self.leaf == "run":
            self.action_open_run()

    def action_advice(self) -> None:
        """Ask what the plates of the box say of the next one."""
        self._open(self._ask_advice)

    def _ask_advice(self, page: PageOpened) -> None:
        run: RunOutcome = page.run

        def take(answer: AnyAnswer) -> None:
            if isinstance(answer, Advised):
                self.advised, self.leaf = answer.told, "advice"

        if not run.box:
            self.desk.say("This plate is of no box: there is nothing to compare it with")
        else:
            self.desk.look_up(AskAdvice(box=run.box, developer=run.developer), take)
