"""What the keys of every page stand on, and what they do on one that works with a foot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from firmware_py.facts.acts.print import ServeFoot
from firmware_py.facts.acts.run import MoveFoot
from tui.pages.shared.page_names import PageName, has_foot

if TYPE_CHECKING:
    from tui.desk import Desk

# So much longer than the bench's long press a key stands for one; far from where a switch counts as stuck.
LONGER = 1.25


class AtDesk:
    """Acts behind the keys of a page; ``desk`` is the screen it stands on."""

    if TYPE_CHECKING:

        @property
        def desk(self) -> Desk:
            """Get the screen; the page has it."""
            ...

    def go_to(self, page: PageName) -> None:
        """Turn to a page, foot and all."""
        self.desk.turn_to(page)
        self.let_foot_serve(page)

    def let_foot_serve(self, page: PageName) -> None:
        """Let the foot serve a page, if it is one for a foot."""
        if has_foot(page):
            self.desk.do(ServeFoot(to=page), again=True)


class Deeds(AtDesk):
    """The acts behind the keys of a page that works with a foot."""

    def action_foot(self) -> None:
        """Press the foot switch and let it go."""
        self.desk.do(MoveFoot(down=True), MoveFoot(down=False), press="foot")

    def action_foot_held(self) -> None:
        """Hold the foot switch down for as long as this bench takes for a long press."""
        if (view := self.desk.view) is not None:
            hold_s = self.desk.own_s(LONGER * view.long_press_s)
            self.desk.do(MoveFoot(down=True), MoveFoot(down=False), hold_s=hold_s, press="foot held")
