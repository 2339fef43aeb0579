"""What the keys do that hold on every page: turn pages, take the foot along, switch the safelight."""

from __future__ import annotations

from firmware_py.facts.acts.run import SwitchSafelight
from tui.pages.page_keys import page_after
from tui.pages.shared.deeds import AtDesk
from tui.pages.shared.page_forms import page_question

SAFELIGHT = "safelight"


class DeedsEverywhere(AtDesk):
    """The acts behind the keys of every page, but for those that are about the screen itself."""

    def action_next_page(self) -> None:
        """Turn to the next page, foot and all."""
        self._turn(1)

    def action_previous_page(self) -> None:
        """Turn to the page before, foot and all."""
        self._turn(-1)

    def action_pages(self) -> None:
        """Ask for a page by its number."""
        self.desk.ask(page_question(self.go_to))

    def _turn(self, by: int) -> None:
        self.go_to(page_after(self.desk.moment().page, by))

    def action_take_foot(self) -> None:
        """Let the foot serve this page, if it is one for a foot."""
        self.let_foot_serve(self.desk.moment().page)

    def action_safelight(self) -> None:
        """Switch the safelight."""
        relays = self.desk.view.relays if self.desk.view else ()
        is_on = any(relay.name == SAFELIGHT and relay.on for relay in relays)
        self.desk.do(SwitchSafelight(on=not is_on))
