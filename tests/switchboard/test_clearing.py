"""The process that stands by to clear the pins: ready before it is needed, and never the only one."""

import asyncio
import os
import select
import signal
import subprocess
import sys

import pytest

from firmware_py.devices.clock import BootClock
from firmware_py.devices.pin_record import read_record
from firmware_py.switchboard import clearing
from firmware_py.switchboard.clearing import PinClearer
from firmware_py.switchboard.make_safe import STAND_BY
from tests.switchboard.wiring import LAMP, LAMP_PIN, SAFELIGHT, SAFELIGHT_PIN

SAFE = [(LAMP_PIN, True, False), (SAFELIGHT_PIN, True, True)]


class Clearing:
    """A clearer with one process standing by, the processes it starts from now on, and its pins' record."""

    def __init__(self, record, monkeypatch):
        self.record = record
        self.clearer = PinClearer(str(record), (LAMP, SAFELIGHT))
        self.started: list[list[str]] = []
        start = clearing._start

        async def noted(words, *, stdin, stdout):
            self.started.append(words)
            return await start(words, stdin=stdin, stdout=stdout)

        monkeypatch.setattr(clearing, "_start", noted)

    async def until_ready(self):
        await self.clearer.stand_by("mock")
        clock = BootClock()
        async with asyncio.timeout(20):
            while not self.clearer.is_ready:
                await clock.wait_until(clock.now_s() + 0.005, asyncio.Event())

    def driven(self):
        if not self.record.exists():
            return []
        return [(entry.pin, entry.driven, entry.high) for entry in read_record(self.record)]

    def fresh_ones(self):
        return [words for words in self.started if words[0] != STAND_BY]


@pytest.fixture
async def ready(tmp_path, monkeypatch):
    ready = Clearing(tmp_path / "pins.txt", monkeypatch)
    await ready.until_ready()
    yield ready
    await ready.clearer.aclose()


def assert_gone(pid):
    with pytest.raises(ProcessLookupError):
        os.kill(pid, 0)


async def test_the_one_that_stands_by_clears_the_pins_and_none_is_started(ready, monkeypatch):
    monkeypatch.setattr(clearing, "STANDBY_S", 20.0)  # this machine may be busy
    assert ready.driven() == []
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE
    assert ready.fresh_ones() == []
    assert ready.clearer.pid is None


async def test_a_frozen_one_is_killed_and_a_fresh_one_clears_the_pins(ready):
    pid = ready.clearer.pid
    os.kill(pid, signal.SIGSTOP)
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE
    assert len(ready.fresh_ones()) == 1
    assert_gone(pid)


async def test_one_killed_at_the_last_moment_is_made_good_by_a_fresh_one(ready):
    os.kill(ready.clearer.pid, signal.SIGKILL)
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE
    assert len(ready.fresh_ones()) == 1


async def test_one_that_is_still_starting_is_waited_for(ready):
    await ready.clearer.aclose()
    await ready.clearer.stand_by("mock")
    assert not ready.clearer.is_ready
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE
    assert ready.fresh_ones() == []


async def test_a_dead_one_is_replaced_but_not_for_ever(ready):
    for left in reversed(range(clearing.STANDBY_DEATHS)):
        watch = ready.clearer._watch
        os.kill(ready.clearer.pid, signal.SIGKILL)
        await asyncio.wait_for(watch, 20)
        assert (ready.clearer.pid is not None) == (left > 0)
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE


async def test_one_that_is_sent_away_ends_and_has_touched_no_line(ready):
    pid = ready.clearer.pid
    await ready.clearer.aclose()
    assert_gone(pid)
    assert ready.driven() == []


async def test_a_bench_whose_relays_are_all_worked_by_hand_needs_none():
    clearer = PinClearer(None, ())
    await clearer.stand_by("mock")
    assert clearer.pid is None
    assert await clearer.clear("mock")


@pytest.mark.parametrize("frozen", [False, True])
def test_it_ends_with_its_owner_even_if_it_is_frozen(tmp_path, frozen):
    owner_code = (
        "import subprocess, sys\n"
        f"words = [sys.executable, '-m', 'firmware_py.switchboard.make_safe', {STAND_BY!r}, 'mock']\n"
        "child = subprocess.Popen(words, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True)\n"
        "print(child.pid, child.stdout.readline(), flush=True)\n"
        "sys.stdin.read()\n"
    )
    with subprocess.Popen(
        [sys.executable, "-c", owner_code], stdin=subprocess.PIPE, stdout=subprocess.PIPE
    ) as owner:
        assert owner.stdout is not None
        standby = int(owner.stdout.readline().split()[0])
        ended = os.pidfd_open(standby)
        if frozen:
            os.kill(standby, signal.SIGSTOP)
        owner.kill()
    poll = select.poll()
    poll.register(ended, select.POLLIN)
    assert poll.poll(10_000)
    os.close(ended)


def test_one_that_is_never_needed_is_no_failure():
    words = [sys.executable, "-m", "firmware_py.switchboard.make_safe", STAND_BY, "mock"]
    done = subprocess.run(words, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=True)
    assert (done.stdout, done.stderr) == ("standing by\n", "")
