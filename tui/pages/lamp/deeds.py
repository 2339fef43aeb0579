"""What the keys of the Lamp page do."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.facts.acts.print import BatheSheet, ChoosePatch, Expose, PutOut, StopExposure
from firmware_py.facts.views.print import PrintView
from tui.pages.lamp import forms as asks
from tui.pages.lamp.choices import bath_question, more_question, over_question, sheet_question
from tui.pages.lamp.print_words import last_print, open_print
from tui.pages.lamp.words import is_edition_under_way, is_exposing, next_by_hand, sheets_for_baths
from tui.pages.shared.deeds import Deeds


class LampDeeds(Deeds):
    """The acts behind the keys of the Lamp page."""

    def _with_print(self, then: Callable[[PrintView], None]) -> None:
        if (here := open_print(self.desk.view)) is None:
            self.desk.say("No print is open: Enter opens one")
        elif is_exposing(self.desk.view):
            # A question would take Space and X for its own.
            self.desk.say("Not while paper gets light: Space or X ends that first")
        else:
            then(here)

    def action_go_on(self) -> None:
        """Open a print, or put a finished sheet into its bath."""
        view = self.desk.view
        if view is None or not next_by_hand(view):
            return
        here = open_print(view)
        if here is None:
            self.desk.ask(asks.negative_question(view, self.desk))
        elif sheets_for_baths(here) == here.finished[-1:]:
            self.desk.do(BatheSheet(), then=self._bathed)
        else:
            self.desk.ask(bath_question(here, self.desk, self._bathed))

    def _bathed(self) -> None:
        self.desk.say("The sheet is in its first bath, timed on the Trays page; the next one may be exposed")

    def action_foot(self) -> None:
        """Press the foot switch; where only a foot held down would do, one press for on and one for off."""
        view = self.desk.view
        if view is None or view.lamp.mode != "bulb":
            super().action_foot()
        else:
            self.desk.do(StopExposure() if is_exposing(view) else Expose(), press="foot")

    def action_lamp_off(self) -> None:
        """Put the lamp out; every press counts."""
        self.desk.do(PutOut(), again=True)

    def action_choose_patch(self, number: int) -> None:
        """Let that patch be the base."""

        def choose(here: PrintView) -> None:
            if here.strip is None:
                self.desk.say("No strip is there to choose from: T plans one")
            elif is_edition_under_way(here):
                self.desk.say("Prints are under way with this base: B sets another")
            elif number > len(here.strip.patches):
                self.desk.say(f"This strip has the patches 1 to {len(here.strip.patches)}")
            else:
                self.desk.do(ChoosePatch(place=float(number)))

        self._with_print(choose)

    def action_base(self) -> None:
        """Ask for the base time."""
        self._with_print(lambda _: self.desk.ask(asks.base_question(self.desk)))

    def action_strip(self) -> None:
        """Ask for a test strip."""
        self._with_print(lambda here: self.desk.ask(asks.strip_question(here, self.desk)))

    def action_burn(self) -> None:
        """Ask for a burn."""
        self._with_print(lambda _: self.desk.ask(asks.burn_question(self.desk)))

    def action_copies(self) -> None:
        """Ask for the number of prints."""
        self._with_print(lambda _: self.desk.ask(asks.copies_question(self.desk)))

    def action_sheet(self) -> None:
        """Ask what becomes of the sheet."""

        def ask(here: PrintView) -> None:
            if here.sheet is not None:
                self.desk.ask(sheet_question(here, self.desk))

        self._with_print(ask)

    def action_note(self) -> None:
        """Ask for a remark on the print, or on the last one: it is judged when it is dry."""
        if last_print(self.desk.view) is not None:
            self.desk.ask(asks.note_question(self.desk))
        else:
            self._with_print(lambda _: self.desk.ask(asks.note_question(self.desk)))

    def action_more(self) -> None:
        """Ask which of the rarer things is wanted."""
        if (over := last_print(self.desk.view)) is not None:
            self.desk.ask(over_question(over, self.desk))
        else:
            self._with_print(lambda here: self.desk.ask(more_question(here, self.desk)))
