"""A small controller to be killed: it lights the lamp, names its two processes, and goes on until killed."""

import asyncio
import sys
from pathlib import Path

from firmware_py.devices.clock import BootClock
from firmware_py.switchboard.process import ProcessSwitchboard
from firmware_py.switchboard.reports import ExposureBegan
from tests.switchboard.wiring import configure


async def main(record):
    switchboard = ProcessSwitchboard(configure(record), BootClock())
    began = asyncio.Event()
    switchboard.listen(lambda report: began.set() if isinstance(report, ExposureBegan) else None)
    await switchboard.start()
    switchboard.switch("safelight", on=True)
    switchboard.expose("a", "printing-lamp", for_s=None, ceiling_s=60.0)
    await began.wait()
    print(switchboard.pid, switchboard.guardian_pid, flush=True)
    await asyncio.Event().wait()


if __name__ == "__main__":
    asyncio.run(main(Path(sys.argv[1])))
