"""What the keys of the Trays page do."""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

from firmware_py.service.shapes import Focus, LaneView, Mark, Proceed, Pull, TakeUp
from tui.asks import trays as asks
from tui.deeds.deeds import Deeds


class TrayDeeds(Deeds):
    """The acts behind the keys of the Trays page."""

    @cached_property
    def _drafts(self) -> dict[str, str]:
        """Get the remarks that were put aside, by run."""
        return {}

    def _with_lane(self, then: Callable[[LaneView], None]) -> None:
        if (lane := self.desk.moment().lane) is None:
            self.desk.say("No plate on the bench yet: O opens a run")
        else:
            then(lane)

    def action_proceed(self) -> None:
        """Put the plate in, move it on, or take its run up."""
        self._with_lane(
            lambda lane: self.desk.do(
                TakeUp(lane=lane.lane) if lane.state == "interrupted" else Proceed(lane=lane.lane)
            )
        )

    def action_mark(self, number: int) -> None:
        """Make the mark of that number."""

        def mark(lane: LaneView) -> None:
            if number <= len(lane.mark_names):
                self.desk.do(Mark(what=lane.mark_names[number - 1], lane=lane.lane))

        self._with_lane(mark)

    def action_pull(self) -> None:
        """End the development."""
        self._with_lane(lambda lane: self.desk.do(Pull(lane=lane.lane)))

    def action_cut_short(self) -> None:
        """Ask, then end a step early."""
        self._with_lane(lambda lane: self.desk.ask(asks.cut_short_question(lane, self.desk.do)))

    def action_note(self) -> None:
        """Ask for a remark."""

        def note(lane: LaneView) -> None:
            def keep(text: str) -> None:
                self._drafts[lane.run_id] = text

            draft = self._drafts.get(lane.run_id, "")
            self.desk.ask(asks.note_question(lane, draft, self.desk.do, keep))

        self._with_lane(note)

    def action_temperature(self) -> None:
        """Ask for the temperature."""
        desk = self.desk
        self._with_lane(lambda lane: desk.ask(asks.temperature_question(lane, desk.do, desk.say)))

    def action_say_away(self) -> None:
        """Ask how long the plate lay."""
        desk = self.desk
        self._with_lane(lambda lane: desk.ask(asks.away_question(lane, desk.do, desk.say)))

    def action_abandon(self) -> None:
        """Ask, then give the run up."""
        self._with_lane(lambda lane: self.desk.ask(asks.abandon_question(lane, self.desk.do)))

    def action_open_run(self) -> None:
        """Ask for routine and plate of a new run."""
        if self.desk.view is not None:
            self.desk.ask(asks.routine_question(self.desk.view, self.desk.ask, self.desk.do))

    def action_next_tray(self) -> None:
        """Turn to the next tray."""
        self._turn(1)

    def action_previous_tray(self) -> None:
        """Turn to the tray before."""
        self._turn(-1)

    def _turn(self, by: int) -> None:
        view, lane = self.desk.view, self.desk.moment().lane
        if view is None or lane is None or len(view.lanes) < 2:
            return
        at = view.lanes.index(lane)
        self.desk.do(Focus(lane=view.lanes[(at + by) % len(view.lanes)].lane), again=True)
