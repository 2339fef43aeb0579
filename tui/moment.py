"""Everything a page needs to draw itself at one moment."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.run import LaneView
from firmware_py.service.client import LinkLost
from tui.pages.shared.page_names import PageName


@dataclass(frozen=True, slots=True)
class Moment:
    """The bench as last seen, its time now [boot s], whether the line is lost and for how long [s].

    ``said`` is what the screen itself has to say: mostly why something was refused. ``may_start``: no
    controller has answered for a while, and this screen can start one. ``red`` of 255 is what ``brightness``
    comes to, ``brightest`` the most that a test of this screen allows, ``tested`` the day of that test.
    ``dark`` is what the banner says while a plate bears no light and the screen is lit all the same.
    """

    view: BenchView | None
    now_s: float
    lost: LinkLost | None = None
    lost_for_s: float = 0.0
    said: str = ""
    brightness: int = 9
    page: PageName = "trays"
    may_start: bool = False
    red: int = 0
    brightest: int = 255
    tested: str = ""
    dark: str = ""

    @property
    def lane(self) -> LaneView | None:
        """Get the tray in focus."""
        if self.view is None or not self.view.lanes:
            return None
        focus = self.view.focus
        return next((lane for lane in self.view.lanes if lane.lane == focus), self.view.lanes[0])
