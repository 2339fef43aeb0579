"""What the keys of the Daylight page do."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from tui.asks.daylight import question
from tui.deeds.deeds import Deeds
from tui.outing_words import OutingWords


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
        self.desk.ask(question(number, self.words, self.desk.ask, self.change))

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

    def _move(self, hours: int) -> None:
        hour, _, rest = self.words.hour.partition(" ")
        try:
            then = datetime.fromisoformat(f"{self.words.day}T{hour}") + timedelta(hours=hours)
        except (ValueError, OverflowError):
            return
        zone = hour[5:] if hour[5:6] in {"+", "-", "Z"} else ""
        said = f"{then:%H:%M}{zone} {rest}".strip()
        self.change(replace(self.words, day=f"{then:%Y-%m-%d}", hour=said))
