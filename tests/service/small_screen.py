"""The smallest screen: a real client that lights the lamp and goes on watching until somebody ends it."""

import asyncio
import sys
from pathlib import Path

from firmware_py.bench.lamp import print_acts as pa
from firmware_py.service.client import Client, LinkLost


async def main(path: Path) -> None:
    client = Client(path)
    views = client.watch()
    asking: asyncio.Task[None] | None = None
    async for view in views:
        if isinstance(view, LinkLost):
            continue
        if asking is None:
            asking = asyncio.create_task(light(client))
        if view.lamp.state == "lit":
            print("lit", flush=True)


async def light(client: Client) -> None:
    await client.do(pa.OpenPrint(negative="Skarn light", paper="contact paper"))
    await client.do(pa.SetBase(base_s=60.0))
    await client.do(pa.Expose())


if __name__ == "__main__":
    asyncio.run(main(Path(sys.argv[1])))
