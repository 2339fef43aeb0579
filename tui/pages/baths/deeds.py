"""What the keys of the Baths page do."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.upkeep import BathView
from tui.pages.baths import forms as asks
from tui.pages.baths import warmth_forms as warmth
from tui.pages.shared.deeds import AtDesk


class BathDeeds(AtDesk):
    """The acts behind the keys of the Baths page; one bath is chosen, by its id."""

    _chosen = ""
    _before: frozenset[str] = frozenset()

    @property
    def bath(self) -> BathView | None:
        """Get the bath that is chosen: the first, until a person chooses or makes another."""
        baths = self.desk.view.baths if self.desk.view is not None else ()
        made = [bath for bath in baths if self._before and bath.bath_id not in self._before]
        if made:
            self._chosen, self._before = made[-1].bath_id, frozenset()
        return next((bath for bath in baths if bath.bath_id == self._chosen), baths[0] if baths else None)

    def _choose(self, bath: BathView) -> None:
        self._chosen = bath.bath_id
        self.desk.draw()

    def action_choose(self, number: int) -> None:
        """Choose the bath of that number."""
        baths = self.desk.view.baths if self.desk.view is not None else ()
        if 1 <= number <= len(baths):
            self._choose(baths[number - 1])

    def action_next_bath(self) -> None:
        """Choose the next bath."""
        self._step(1)

    def action_previous_bath(self) -> None:
        """Choose the bath before."""
        self._step(-1)

    def _step(self, by: int) -> None:
        view, bath = self.desk.view, self.bath
        if view is not None and bath is not None:
            self._choose(view.baths[(view.baths.index(bath) + by) % len(view.baths)])

    def action_bath(self) -> None:
        """Ask what is to be done with the bath."""
        self._with_bath(lambda bath, view: self.desk.ask(asks.bath_question(bath, view, self.desk)))

    def action_discard(self) -> None:
        """Ask, then throw the bath away."""
        self._with_bath(lambda bath, _: self.desk.ask(asks.discard_question(bath, self.desk)))

    def action_make(self) -> None:
        """Ask what bath is to be made."""
        view = self.desk.view
        if view is not None and view.formulas:
            self._before = frozenset(bath.bath_id for bath in view.baths)
            self.desk.ask(asks.make_question(view, self.desk))
        elif view is not None:
            self.desk.say("The formulas are still being read: a moment")

    def action_heat(self) -> None:
        """Ask what the heater is to do."""
        heater = self.desk.view.heater if self.desk.view is not None else None
        if heater is None:
            self.desk.say("This bench has no heater; one is wired as [relay.heater]")
        else:
            self.desk.ask(warmth.heat_question(heater, self.desk))

    def action_probe(self) -> None:
        """Ask which probe is to be calibrated."""
        view = self.desk.view
        if view is None or not view.probes:
            self.desk.say("This bench has no probe that speaks")
        else:
            self.desk.ask(warmth.probe_question(view, self.desk))

    def action_temperature(self) -> None:
        """Ask for a temperature read by hand."""
        view = self.desk.view
        if view is None or not any(lane.state != "ended" for lane in view.lanes):
            self.desk.say("No plate on the bench: open a run on the Trays page first")
        else:
            self.desk.ask(warmth.tray_temperature_question(view, self.desk))

    def _with_bath(self, then: Callable[[BathView, BenchView], None]) -> None:
        bath, view = self.bath, self.desk.view
        if bath is None or view is None:
            self.desk.say("No bath stands on the bench: M makes one")
        else:
            then(bath, view)
