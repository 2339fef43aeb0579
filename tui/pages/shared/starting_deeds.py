"""What the key does that starts a controller where none answers any more."""

from __future__ import annotations

import asyncio
from collections.abc import Callable, Coroutine
from typing import TYPE_CHECKING, Any

from firmware_py.craft.refusal import Refused
from tui.pages.shared.deeds import AtDesk


class StartingDeeds(AtDesk):
    """The act behind the key that starts a controller; the screen knows how, if at all."""

    if TYPE_CHECKING:
        _start: Callable[[], None] | None

        def _is_held(self, press: object) -> bool: ...

        def work_alone(self, name: str, work: Coroutine[Any, Any, None]) -> None:
            """Do some work in the place of any other of that name; the screen does it."""

    def action_start_controller(self) -> None:
        """Start a controller where none has answered for a while."""
        if self.desk.moment().may_start and not self._is_held("start"):
            self.desk.say("The controller is being started")
            self.work_alone("start", self._start_it())

    async def _start_it(self) -> None:
        if self._start is None:
            return
        try:
            await asyncio.to_thread(self._start)
        except Refused as refusal:
            self.desk.say(f"No: {refusal.line}")
        else:
            self.desk.say("The controller runs again; runs go on by themselves")
