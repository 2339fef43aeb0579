"""The client says in plain words why there is no line."""

from __future__ import annotations

import asyncio
import socket

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.run import Proceed
from firmware_py.service.client import Client, LinkLost


async def first_word(path) -> str:
    client = Client(path)
    async for seen in client.watch():
        client.close()
        assert isinstance(seen, LinkLost)
        return seen.why
    raise AssertionError("a watch never ends by itself")


async def test_where_nobody_listens_the_place_is_named(tmp_path):
    path = tmp_path / "bench.sock"
    words = f"no controller listens at {path}"
    assert await first_word(path) == words
    with socket.socket(socket.AF_UNIX) as dead:
        dead.bind(str(path))
    assert await first_word(path) == words


async def test_a_line_that_is_cut_is_told_from_one_that_was_never_there(tmp_path):
    path = tmp_path / "bench.sock"
    async with await asyncio.start_unix_server(lambda _, writer: writer.close(), path):
        assert await first_word(path) == "the controller closed the line"


async def test_an_act_without_a_line_is_refused(tmp_path):
    with pytest.raises(Refused, match="there is no line to the controller"):
        await Client(tmp_path / "no.sock").do(Proceed())


async def test_a_controller_that_shows_nothing_is_said_to_be_silent_and_its_line_is_kept(
    tmp_path, monkeypatch
):
    """Found by the storm: a screen on a frozen controller went on as if all were well."""
    monkeypatch.setattr("firmware_py.service.client.UNSHOWN_S", 0.01)
    path = tmp_path / "bench.sock"
    met: list[asyncio.StreamWriter] = []
    async with await asyncio.start_unix_server(lambda _, writer: met.append(writer), path):
        client = Client(path)
        seen = client.watch()
        first = await anext(seen)
        assert isinstance(first, LinkLost)
        assert first.frozen
        assert "does not answer" in first.why
        met[0].close()
        while (last := await anext(seen)) == first:
            pass
        assert isinstance(last, LinkLost)
        assert not last.frozen
        assert len(met) == 1
        client.close()
