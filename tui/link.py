"""The screen's door to the bench."""

from __future__ import annotations

from collections.abc import AsyncIterator
from typing import Protocol

from firmware_py.facts.acts.run import AnyAct
from firmware_py.facts.views.bench import BenchView
from firmware_py.service.book_questions import AnyAnswer, AnyQuestion
from firmware_py.service.client import LinkLost


class BenchLink(Protocol):
    """A line to the controller that finds its own way back when it breaks."""

    def watch(self) -> AsyncIterator[BenchView | LinkLost]:
        """Give the bench's view whenever it changes, and `LinkLost` while there is none; for ever."""
        ...

    async def do(self, act: AnyAct) -> None:
        """Ask for an act; return when it is done. Raises Refused with the controller's words."""
        ...

    async def ask(self, question: AnyQuestion) -> AnyAnswer:
        """Ask the book; return what it says. Raises Refused with the controller's words."""
        ...
