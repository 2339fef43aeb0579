"""What is done aside brings its answer or its error back, and is left behind when nobody waits any more."""

from __future__ import annotations

import asyncio
import subprocess
import sys
import threading
from threading import Thread

import pytest

from firmware_py.bench.aside import NoThread, aside
from firmware_py.craft.refusal import Refused
from firmware_py.devices.threads import begin


async def test_an_answer_and_an_error_come_back():
    assert await aside(lambda: 7) == 7
    with pytest.raises(Refused, match="no wire"):
        await aside(_refuse)


def _refuse() -> None:
    raise Refused("no wire")


async def test_one_that_nobody_waits_for_any_more_is_left_alone():
    may_go, gone = threading.Event(), asyncio.Event()
    loop = asyncio.get_running_loop()

    def slow() -> None:
        may_go.wait(20.0)
        loop.call_soon_threadsafe(gone.set)

    task = asyncio.create_task(aside(slow))
    await asyncio.sleep(0)
    task.cancel()
    may_go.set()
    await asyncio.wait_for(gone.wait(), 20.0)
    with pytest.raises(asyncio.CancelledError):
        await task


NEVER = """
import asyncio, threading
from firmware_py.bench.aside import NoThread, aside
async def main():
    asyncio.create_task(aside(threading.Event().wait))
    await asyncio.sleep(0)
asyncio.run(main())
"""


def test_a_program_ends_though_a_probe_never_answers():
    """Found by the storm: a controller told to end hung on a probe that did not answer."""
    subprocess.run([sys.executable, "-c", NEVER], check=True, timeout=30.0)


async def test_where_the_system_gives_no_thread_it_is_refused_in_one_line(monkeypatch):
    def refused(_thread):
        raise RuntimeError("can't start new thread")

    monkeypatch.setattr(Thread, "start", refused)
    with pytest.raises(NoThread) as refusal:
        await aside(lambda: 1, "probe tray")
    assert refusal.value.line == "probe tray: no thread to be had (can't start new thread)"
    with pytest.raises(Refused, match="foot switch pedal: no thread"):
        begin(Thread(name="foot switch pedal"))
