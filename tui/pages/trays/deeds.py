"""What the keys of the Trays page do."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cached_property

from firmware_py.facts.acts.run import (
    ChangeWater,
    Focus,
    Mark,
    Proceed,
    Pull,
    TakeBackMark,
    TakeBackPull,
    TakeUp,
)
from firmware_py.facts.views.run import LaneView
from firmware_py.journal.book_target import BookTarget
from firmware_py.service.book_questions import AnyAnswer, AskBookTarget, BookTargetTold
from tui.pages.shared.deeds import Deeds
from tui.pages.shared.everywhere_keys import EVERYWHERE
from tui.pages.shared.key_use import NUMBER_KEYS
from tui.pages.trays import forms as asks
from tui.pages.trays.bath_forms import which_bath_question
from tui.pages.trays.correction_forms import wrong_plate_question
from tui.pages.trays.keys import KEYS
from tui.pages.trays.mark_forms import mark_question
from tui.pages.trays.mark_words import keyed_marks
from tui.pages.trays.words import going_on_words, is_developing, is_water_due

# The book is asked again of a plate in the developer when it has not answered for so long.
ASK_AGAIN_S = 20.0
# A step that ends within this may have ended by the time that a key arrives.
SOON_S = 1.0
# Keys that the page itself has a use for: a mark with one of them is made by M and then that key.
TAKEN = frozenset(key for use in (*KEYS, *EVERYWHERE) for key in use.keys) - frozenset(NUMBER_KEYS)


class TrayDeeds(Deeds):
    """The acts behind the keys of the Trays page."""

    @cached_property
    def _drafts(self) -> dict[str, str]:
        """Get the remarks that were put aside, by run."""
        return {}

    @cached_property
    def targets(self) -> dict[str, BookTarget]:
        """Get how long the book would develop the plates in a developer, by run."""
        return {}

    @cached_property
    def _asked(self) -> dict[tuple[str, int], float]:
        """Get when [boot s] the book was asked of which run, with how many marks: for ever once answered."""
        return {}

    def ask_book(self, lane: LaneView, now_s: float) -> None:
        """Ask the book of the plate in the developer, again with every mark: an appearance changes it.

        Quietly: it is nobody's question. One that was not answered is asked again after a while.
        """
        asked = (lane.run_id, len(lane.marks))
        if not lane.box or not is_developing(lane):
            return
        if now_s - self._asked.get(asked, -math.inf) < ASK_AGAIN_S:
            return
        self._asked[asked] = now_s

        def take(answer: AnyAnswer) -> None:
            self._asked[asked] = math.inf
            if isinstance(answer, BookTargetTold) and answer.target is not None:
                self.targets[answer.run] = answer.target

        self.desk.look_up(AskBookTarget(run=lane.run_id), take, quiet=True)

    def _with_lane(self, then: Callable[[LaneView], None]) -> None:
        if (lane := self.desk.moment().lane) is None:
            self.desk.say("No plate on the bench yet: O opens a run")
        else:
            then(lane)

    def action_proceed(self) -> None:
        """Put the plate in, move it on, take in that its water is fresh, or take its run up."""

        def proceed(lane: LaneView) -> None:
            if lane.state == "interrupted":
                self._take_up(lane)
            elif self._goes_on(lane):
                self.desk.say(going_on_words(lane, _key_of("plate is clear", lane)))
            elif is_water_due(lane, self.desk.moment().now_s):
                self.desk.do(ChangeWater(lane=lane.lane))
            else:
                self._move_on(lane)

        self._with_lane(proceed)

    def _move_on(self, lane: LaneView) -> None:
        """Move a plate on at once; ask afterwards which bath it is in, where several can be meant."""
        question = which_bath_question(lane, self.desk)

        def ask() -> None:
            if question is not None and not self.desk.is_black:
                self.desk.ask(question)

        self.desk.do(Proceed(lane=lane.lane), then=ask)

    def _goes_on(self, lane: LaneView) -> bool:
        """Return whether there is plainly nothing to take on; in doubt and in the dark ask the bench."""
        now_s = self.desk.moment().now_s
        if self.desk.is_black or is_water_due(lane, now_s):
            return False
        soon = lane.due_s is not None and lane.due_s - now_s < SOON_S
        return lane.state == "ended" or (lane.state == "running" and not soon)

    def _take_up(self, lane: LaneView) -> None:
        """Take a run up after the likely time; where nobody can tell it, ask."""
        if lane.away is not None and lane.away.likely_s is None:
            self.desk.ask(asks.away_question(lane, self.desk.do))
        else:
            self.desk.do(TakeUp(lane=lane.lane))

    def action_mark(self, number: int) -> None:
        """Make the mark whose key is that number."""
        self.mark_by(str(number))

    def mark_by(self, key: str) -> bool:
        """Make the mark of a key in the tray in focus; return whether there is one."""
        lane = self.desk.moment().lane
        marks = keyed_marks(lane) if lane is not None else {}
        if lane is None or key not in marks or key in TAKEN:
            return False
        self.desk.do(Mark(what=marks[key], lane=lane.lane))
        return True

    def action_marks(self) -> None:
        """Ask which mark."""
        self._with_lane(lambda lane: self.desk.ask(mark_question(lane, self.desk.do)))

    def action_take_back(self) -> None:
        """Let the last mark count for nothing."""
        self._with_lane(lambda lane: self.desk.do(TakeBackMark(lane=lane.lane)))

    def action_pull(self) -> None:
        """End the development."""
        self._with_lane(lambda lane: self.desk.do(Pull(lane=lane.lane)))

    def action_take_back_pull(self) -> None:
        """Put the plate back that was pulled by mistake."""
        self._with_lane(lambda lane: self.desk.do(TakeBackPull(lane=lane.lane)))

    def action_cut_short(self) -> None:
        """Ask, then end a step early."""

        def cut(lane: LaneView) -> None:
            if lane.state == "due":
                self.desk.say("That step is over its time already: Enter takes the plate on")
            else:
                self.desk.ask(asks.cut_short_question(lane, self.desk.do))

        self._with_lane(cut)

    def action_note(self) -> None:
        """Ask for a remark."""

        def note(lane: LaneView) -> None:
            def keep(text: str) -> None:
                self._drafts[lane.run_id] = text

            draft, view = self._drafts.get(lane.run_id, ""), self.desk.view
            phrases = view.phrases if view is not None else ()
            self.desk.ask(asks.note_question(lane, draft, self.desk, keep, phrases))

        self._with_lane(note)

    def action_temperature(self) -> None:
        """Ask for the temperature."""
        self._with_lane(lambda lane: self.desk.ask(asks.temperature_question(lane, self.desk.do)))

    def action_say_away(self) -> None:
        """Ask how long the plate lay."""
        self._with_lane(lambda lane: self.desk.ask(asks.away_question(lane, self.desk.do)))

    def action_abandon(self) -> None:
        """Ask, then give the run up."""
        self._with_lane(lambda lane: self.desk.ask(asks.abandon_question(lane, self.desk.do)))

    def action_open_run(self) -> None:
        """Ask for routine and plate of a new run."""
        if self.desk.view is not None:
            self.desk.ask(asks.routine_question(self.desk.view, self.desk.ask, self.desk.do))

    def action_correct_plate(self) -> None:
        """Ask for the right plate of a run that was opened with the wrong one."""

        def correct(lane: LaneView) -> None:
            if self.desk.view is not None:
                self.desk.ask(wrong_plate_question(lane, self.desk.view, self.desk))

        self._with_lane(correct)

    def action_next_tray(self) -> None:
        """Turn to the next tray."""
        self._turn(1)

    def action_previous_tray(self) -> None:
        """Turn to the tray before."""
        self._turn(-1)

    def action_urgent_tray(self) -> None:
        """Turn to the tray that needs a person most."""
        view = self.desk.view
        if view is not None and view.most_urgent is not None:
            self.desk.do(Focus(lane=view.most_urgent), again=True)

    def _turn(self, by: int) -> None:
        view, lane = self.desk.view, self.desk.moment().lane
        if view is None or lane is None or len(view.lanes) < 2:
            return
        at = view.lanes.index(lane)
        self.desk.do(Focus(lane=view.lanes[(at + by) % len(view.lanes)].lane), again=True)


def _key_of(mark: str, lane: LaneView) -> str:
    return next((key for key, name in keyed_marks(lane).items() if name == mark and key not in TAKEN), "")
