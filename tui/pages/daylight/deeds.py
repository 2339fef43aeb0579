"""What the keys of the Daylight page do."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from firmware_py.service.book_questions import Advised, AnyAnswer, AskAdvice
from tui.pages.daylight.forms import question
from tui.pages.daylight.outing_words import LONGEST, OutingWords
from tui.pages.logbook.advice_words import stops_words
from tui.pages.shared.deeds import Deeds
from tui.pages.shared.time_words import printable
from tui.widgets.asking import Question


class DaylightDeeds(Deeds):
    """The acts behind the keys of the Daylight page."""

    table_from = -1

    if TYPE_CHECKING:

        @property
        def words(self) -> OutingWords:
            """Get what is said; the page has it."""
            ...

        def change(self, words: OutingWords) -> None:
            """Say something else; the page reckons anew."""

        def redraw(self) -> None:
            """Draw the page anew; the page does it."""

    def action_change(self, number: int) -> None:
        """Ask for the field of that number."""
        view = self.desk.view
        now = None if view is None else datetime.fromisoformat(view.utc).astimezone()
        self.desk.ask(question(number, self.words, self.desk.ask, self.change, now))

    def action_box(self) -> None:
        """Ask for the box whose plates the book has learned from."""

        def typed(text: str) -> None:
            box = printable(text)[:LONGEST]
            if box:
                self.desk.look_up(AskAdvice(box=box), self.learn)
            else:
                self.change(replace(self.words, box="", correction="", learned=""))

        words = "The box of plates that the book knows (nothing typed: none), then Enter:"
        self.desk.ask(Question(words, typed, start=self.words.box))

    def learn(self, answer: AnyAnswer) -> None:
        """Take in what the book has learned of a box."""
        if not isinstance(answer, Advised):
            return
        told, correction = answer.told, answer.told.correction
        if correction is None:
            self.desk.say(
                f"No plate of {printable(told.box)} has a note of its exposure: nothing was learned"
            )
            return
        rehearsal = "; REHEARSAL" if told.rehearsal else ""
        plates = "1 plate" if correction.plates == 1 else f"{correction.plates} plates"
        learned = f"{stops_words(correction.stops)} ± {correction.doubt_stops:.1f}; from {plates}"
        said = (told.box[:LONGEST], f"{correction.stops:.4f}", learned + rehearsal)
        self.change(replace(self.words, box=said[0], correction=said[1], learned=said[2]))

    def action_later(self) -> None:
        """Go an hour on."""
        self._move(1)

    def action_earlier(self) -> None:
        """Go an hour back."""
        self._move(-1)

    def action_table(self) -> None:
        """Show the table of the day, then what is further down, then the exposure again."""
        self.table_from += 1
        self.redraw()

    def action_close_table(self) -> None:
        """Show the exposure again."""
        if self.table_from >= 0:
            self.table_from = -1
            self.redraw()

    def _move(self, hours: int) -> None:
        hour, _, rest = self.words.hour.partition(" ")
        try:
            then = datetime.fromisoformat(f"{self.words.day}T{hour}") + timedelta(hours=hours)
        except (ValueError, OverflowError):
            return
        zone = hour[5:] if hour[5:6] in {"+", "-", "Z"} else ""
        said = f"{then:%H:%M}{zone} {rest}".strip()
        self.change(replace(self.words, day=f"{then:%Y-%m-%d}", hour=said))
