"""The driver inside the screen."""

from __future__ import annotations

import asyncio

from tui.driver import RedDriver


async def test_a_screen_that_goes_on_writes_nothing_from_within_the_signal():
    """Seen to hang for ever, once in 50 stops: the signal came while the queue of the writer was locked."""
    written = []

    class Driver(RedDriver):
        def __init__(self) -> None:
            self._loop = asyncio.get_running_loop()

        def _come_back(self) -> None:
            written.append("all")

    driver = Driver()
    driver._sigcont_application()
    assert written == []
    await asyncio.sleep(0)
    assert written == ["all"]
