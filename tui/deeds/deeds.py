"""What the keys of every page stand on, and what they do on one that works with a foot."""

from __future__ import annotations

from typing import TYPE_CHECKING

from firmware_py.service.shapes import MoveFoot

if TYPE_CHECKING:
    from tui.desk import Desk

# Longer than any bench takes a long press to be; the page names the key that stands for it.
HOLD_S = 1.5


class AtDesk:
    """Acts behind the keys of a page; ``desk`` is the screen it stands on."""

    if TYPE_CHECKING:

        @property
        def desk(self) -> Desk:
            """Get the screen; the page has it."""
            ...


class Deeds(AtDesk):
    """The acts behind the keys of a page that works with a foot."""

    def action_foot(self) -> None:
        """Press the foot switch and let it go."""
        self.desk.do(MoveFoot(down=True), MoveFoot(down=False), press="foot")

    def action_foot_held(self) -> None:
        """Hold the foot switch down for a while."""
        self.desk.do(MoveFoot(down=True), MoveFoot(down=False), hold_s=HOLD_S, press="foot held")
