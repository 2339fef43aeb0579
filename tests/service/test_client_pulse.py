"""A client shows the controller no more life than whoever holds its keys shows to it."""

from __future__ import annotations

import asyncio
import json
from pathlib import Path

from firmware_py.service.client import Client


async def test_a_client_beats_at_each_pulse_and_is_silent_between(tmp_path: Path):
    lines: asyncio.Queue[str] = asyncio.Queue()
    ended = asyncio.Event()

    async def hear(reader: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        while line := await reader.readline():
            lines.put_nowait(json.loads(line)["message"])
        writer.close()
        await writer.wait_closed()
        ended.set()

    pulses = asyncio.Semaphore(0)

    async def pulse() -> None:
        await pulses.acquire()

    server = await asyncio.start_unix_server(hear, tmp_path / "sock")
    client = Client(tmp_path / "sock", pulse=pulse)

    async def watch() -> None:
        async for _ in client.watch():
            pass

    watching = asyncio.ensure_future(watch())
    heard = [await asyncio.wait_for(lines.get(), 10.0) for _ in range(3)]
    assert heard == ["hello", "watch", "beat"]
    for _ in range(3):
        assert lines.empty()
        pulses.release()
        assert await asyncio.wait_for(lines.get(), 10.0) == "beat"
    watching.cancel()
    await asyncio.gather(watching, return_exceptions=True)
    client.close()
    await asyncio.wait_for(ended.wait(), 10.0)
    server.close()
    await server.wait_closed()
