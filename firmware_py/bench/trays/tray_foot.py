"""The foot at the trays: a press belongs to the tray that was in focus when the foot came down."""

from __future__ import annotations

from firmware_py.bench.foot import Press
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.foot_table import FOOT_TABLE, situation
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.runs import Runs
from firmware_py.bench.trays.urgency import most_urgent
from firmware_py.craft.refusal import Refused


class TrayFoot:
    """Turns presses into deeds at the trays."""

    def __init__(self, runs: Runs, scribe: Scribe) -> None:
        self._runs = runs
        self._scribe = scribe
        self._number: int | None = None
        self.has_the_press = True

    def comes_down(self) -> None:
        """Take in that a foot came down for the trays."""
        self._number = self._runs.focus

    @property
    def long_means(self) -> bool:
        """Get whether a long press would mean something where the foot is down."""
        lane = self._lane
        return lane is not None and bool(FOOT_TABLE[situation(lane)].long)

    def pressed(self, press: Press | None) -> None:
        """Do what a press means. Raises Refused where it means nothing."""
        lane = self._lane
        if press is None or not self._runs.lanes:
            return
        self._scribe.revision += 1
        if press == "held":
            self._scribe.play("held")
        elif lane is None or FOOT_TABLE[situation(lane)].short == "turn":
            self._turn()
        else:
            self._runs.hands.press(lane, long=press == "long")

    def _turn(self) -> None:
        """Turn keys and foot to the tray that needs the person most."""
        wanted = most_urgent(self._runs.lanes.values(), self._scribe.clock.now_s())
        if wanted is None or wanted.number == self._runs.focus:
            raise Refused("no other tray needs anything", where="foot")
        self._runs.focus = wanted.number
        self._scribe.play("heard")

    @property
    def _lane(self) -> Lane | None:
        lane = self._runs.lanes.get(self._number) if self._number is not None else None
        return None if lane is None or lane.away is not None else lane
