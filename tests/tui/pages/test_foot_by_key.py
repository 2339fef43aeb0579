"""A press of the foot by a key is as long as the key says, however long the book takes."""

from __future__ import annotations

import asyncio

from firmware_py.facts.acts.run import MoveFoot
from tests.tui.pages.stage import stage
from tests.tui.sample_bench import bench, lane


async def test_the_foot_is_lifted_before_the_book_has_taken_that_it_came_down(tmp_path, monkeypatch):
    """Else a slow disk would make a long press of Space: in the developer that pulls the plate."""
    async with stage(tmp_path, bench(lane())) as on:
        taken, heard = asyncio.Event(), []

        async def do(act):
            heard.append(act)
            await taken.wait()

        monkeypatch.setattr(on.link, "do", do)
        await on.press("space")
        assert heard == [MoveFoot(down=True), MoveFoot(down=False)]
        taken.set()
        await on.settle()
