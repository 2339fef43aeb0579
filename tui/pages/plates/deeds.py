"""What the keys of the Plates page do."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.facts.acts.plate import MarkExposed, UnloadPlate
from firmware_py.facts.acts.run import AnyAct
from firmware_py.facts.events.life import ExposureNoted
from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.plates import LifeView
from tui.pages.plates import forms as asks
from tui.pages.plates.exposure_forms import ask_exposure
from tui.pages.plates.words import PlateRow, plate_rows
from tui.pages.shared.deeds import AtDesk
from tui.pages.trays.forms import routine_question


class PlateDeeds(AtDesk):
    """The acts behind the keys of the Plates page; one row is chosen, by its key."""

    _chosen = ""

    @property
    def rows(self) -> tuple[PlateRow, ...]:
        """Get the rows of the page."""
        return plate_rows(self.desk.view.plates) if self.desk.view is not None else ()

    @property
    def row(self) -> PlateRow | None:
        """Get the row that is chosen: the first, until a person chooses another."""
        rows = self.rows
        return next((row for row in rows if row.key == self._chosen), rows[0] if rows else None)

    def _choose(self, row: PlateRow) -> None:
        self._chosen = row.key
        self.desk.draw()

    def action_choose(self, number: int) -> None:
        """Choose the row of that number."""
        if 1 <= number <= len(self.rows):
            self._choose(self.rows[number - 1])

    def action_next_row(self) -> None:
        """Choose the next row."""
        self._step(1)

    def action_previous_row(self) -> None:
        """Choose the row before."""
        self._step(-1)

    def _step(self, by: int) -> None:
        rows, row = self.rows, self.row
        if row is not None:
            self._choose(rows[(rows.index(row) + by) % len(rows)])

    def action_load(self) -> None:
        """Load the side that is chosen, or the next one that is empty."""
        view, row = self.desk.view, self.row
        if view is None:
            return
        rows = self.rows
        at = rows.index(row) if row is not None else 0
        empty = next((one for one in (*rows[at:], *rows[:at]) if one.side and one.plate is None), None)
        if empty is None:
            self.desk.say("No side is empty" if rows else "No holder yet: N enters one")
            return
        self._choose(empty)
        asks.load(empty.side, view, self.desk)

    def action_unload(self) -> None:
        """Take the plate out of the side that is chosen."""
        self._with_side(lambda side: self.desk.do(UnloadPlate(side=side)))

    def action_exposed(self) -> None:
        """Call the plate in the side that is chosen exposed."""
        self._with_side(lambda side: self.desk.do(MarkExposed(side=side)))

    def action_write(self) -> None:
        """Ask for the exposure of the plate that is chosen."""

        def write(plate: LifeView, view: BenchView) -> None:
            ask_exposure(plate, self._last_noted(), view, self.desk)

        self._with_plate(write)

    def _last_noted(self) -> ExposureNoted | None:
        plates = self.desk.view.plates.plates if self.desk.view is not None else ()
        noted = [plate.exposure for plate in plates if plate.exposure is not None]
        return noted[-1] if noted else None

    def action_open_run(self) -> None:
        """Open a run with the plate that is chosen, and turn to where it goes on."""

        def do(act: AnyAct) -> None:
            self.desk.do(act, then=lambda: self.go_to("trays"))

        self._with_plate(
            lambda plate, view: self.desk.ask(routine_question(view, self.desk.ask, do, plate=plate.name))
        )

    def action_plate(self) -> None:
        """Ask what else is to be said of the plate that is chosen."""
        self._with_plate(lambda plate, _: self.desk.ask(asks.plate_question(plate, self.desk)))

    def action_new(self) -> None:
        """Ask what is to be entered."""
        self.desk.ask(asks.new_question(self.desk))

    def _with_side(self, then: Callable[[str], None]) -> None:
        row = self.row
        if row is None or not row.side:
            self.desk.say("That plate lies in no holder" if row else "No holder yet: N enters one")
        else:
            then(row.side)

    def _with_plate(self, then: Callable[[LifeView, BenchView], None]) -> None:
        row, view = self.row, self.desk.view
        if view is None or row is None:
            self.desk.say("No holder yet: N enters one")
        elif row.plate is None:
            self.desk.say(f"Side {row.side} holds no plate: I loads it")
        else:
            then(row.plate, view)
