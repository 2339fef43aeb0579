"""The guardian of a switchboard: there before it is needed, replaced when lost, and never the only one."""

import asyncio
import os
import signal
import subprocess
import sys
from typing import Any

import pytest

from firmware_py.devices.clock import BootClock
from firmware_py.devices.pin_record import PinRecord, read_record
from firmware_py.switchboard import child, clearing
from firmware_py.switchboard.clearing import PinClearer
from firmware_py.switchboard.guardian import NOTHING_DONE
from firmware_py.switchboard.reports import GuardianLost, GuardianReady, Report
from tests.switchboard.wiring import LAMP, LAMP_PIN, SAFELIGHT, SAFELIGHT_PIN

SAFE = [(LAMP_PIN, True, False), (SAFELIGHT_PIN, True, True)]
# Stands in for a switchboard: lines of its own that it holds until it is killed, and a sign of life.
SWITCHBOARD = (
    "import sys, os, time\n"
    "from firmware_py.devices.pin_record import PinRecord\n"
    "pins = PinRecord(sys.argv[1])\n"
    f"pins.drive({LAMP_PIN}, high=True)\n"
    "print('lit', flush=True)\n"
    "while True:\n"
    "    os.write(int(sys.argv[2]), b'.')\n"
    "    time.sleep(0.05)\n"
)


class Clearing:
    """A clearer, what it told, a small switchboard that has lit the lamp, and the pins' record."""

    def __init__(self, record, monkeypatch, relays=(LAMP, SAFELIGHT)):
        self.record = record
        self.clock = BootClock()
        self.told: asyncio.Queue[Report] = asyncio.Queue()
        self.clearer = PinClearer(
            str(record), relays, silence_s=30.0, clock=self.clock, told=self.told.put_nowait
        )
        self.fresh = 0
        self.switchboard: Any = None
        start = clearing._start_fresh

        async def counted(words):
            self.fresh += 1
            return await start(words)

        monkeypatch.setattr(clearing, "_start_fresh", counted)

    async def until_ready(self):
        await self.clearer.stand_by("mock")
        await self.clearer.until_known(20.0)
        assert self.clearer.is_ready

    def light(self):
        beats = self.clearer.beats
        assert beats is not None
        words = [sys.executable, "-c", SWITCHBOARD, str(self.record), str(beats)]
        self.switchboard = subprocess.Popen(words, stdout=subprocess.PIPE, pass_fds=(beats,))
        assert self.switchboard.stdout.readline() == b"lit\n"
        self.clearer.watch(self.switchboard.pid)

    def driven(self):
        """Return what was driven since the lamp was lit."""
        entries = [(entry.pin, entry.driven, entry.high) for entry in read_record(self.record)]
        return entries[entries.index((LAMP_PIN, True, True)) + 1 :] if entries else []

    async def told_next(self, kind):
        async with asyncio.timeout(20):
            report = await self.told.get()
        assert isinstance(report, kind)
        return report

    async def close(self):
        await self.clearer.aclose()
        if self.switchboard is not None:
            self.switchboard.kill()
            self.switchboard.wait()
            self.switchboard.stdout.close()


@pytest.fixture
async def ready(tmp_path, monkeypatch):
    ready = Clearing(tmp_path / "pins.txt", monkeypatch)
    await ready.until_ready()
    ready.light()
    yield ready
    await ready.close()


def assert_gone(pid):
    with pytest.raises(ProcessLookupError):
        os.kill(pid, 0)


async def test_the_guardian_clears_the_pins_by_itself_and_nothing_else_is_started(ready, monkeypatch):
    monkeypatch.setattr(clearing, "GUARDIAN_S", 20.0)  # this machine may be busy
    assert ready.driven() == []
    ready.switchboard.kill()
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE
    assert ready.fresh == 0
    assert ready.clearer.pid is None


async def test_it_acts_without_the_controller_s_word(ready):
    ready.switchboard.kill()
    async with asyncio.timeout(20):
        while ready.driven() != SAFE:
            await ready.clock.wait_until(ready.clock.now_s() + 0.005, asyncio.Event())
    assert ready.told.empty(), "a guardian that has done its work is not lost"


async def test_it_bears_the_signals_that_end_a_group_of_processes(ready):
    for number in (signal.SIGTERM, signal.SIGINT, signal.SIGHUP, signal.SIGQUIT):
        os.kill(ready.clearer.pid, number)
    ready.switchboard.kill()
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE
    assert ready.fresh == 0


async def test_a_frozen_one_is_killed_and_a_fresh_process_clears_the_pins(ready):
    pid = ready.clearer.pid
    os.kill(pid, signal.SIGSTOP)
    ready.switchboard.kill()
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE
    assert ready.fresh == 1
    assert_gone(pid)


async def test_one_killed_at_the_last_moment_is_made_good_by_a_fresh_process(ready):
    os.kill(ready.clearer.pid, signal.SIGKILL)
    ready.switchboard.kill()
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE
    assert ready.fresh == 1


async def test_one_that_is_still_starting_is_waited_for(tmp_path, monkeypatch):
    bench = Clearing(tmp_path / "pins.txt", monkeypatch)
    await bench.clearer.stand_by("mock")
    async with asyncio.timeout(20):
        while bench.clearer.pid is None:
            await bench.clock.wait_until(bench.clock.now_s() + 0.001, asyncio.Event())
    bench.light()
    bench.switchboard.kill()
    bench.clearer._is_loaded = False  # it may have been quicker than the small switchboard
    assert await bench.clearer.clear("mock")
    assert bench.driven() == SAFE
    assert bench.fresh == 0
    await bench.close()


async def test_a_dead_one_is_told_of_replaced_and_its_heir_guards_the_same_switchboard(ready, monkeypatch):
    monkeypatch.setattr(clearing, "GUARDIAN_S", 20.0)
    first = ready.clearer.pid
    os.kill(first, signal.SIGKILL)
    lost = await ready.told_next(GuardianLost)
    assert ready.clearer.missing == lost
    await ready.told_next(GuardianReady)
    assert ready.clearer.missing is None
    assert ready.clearer.pid not in {None, first}
    ready.switchboard.kill()
    assert await ready.clearer.clear("mock")
    assert ready.driven() == SAFE
    assert ready.fresh == 0


async def test_one_that_answers_no_beat_is_killed_and_replaced(ready):
    ready.clearer.beat()
    os.kill(ready.clearer.pid, signal.SIGSTOP)
    struck_s = ready.clock.now_s()
    async with asyncio.timeout(20):
        while ready.told.empty():
            ready.clearer.beat()
            await ready.clock.wait_until(ready.clock.now_s() + 0.05, asyncio.Event())
    assert ready.clock.now_s() - struck_s >= clearing.SILENT_S
    await ready.told_next(GuardianLost)
    await ready.told_next(GuardianReady)


async def test_one_that_cannot_be_started_is_told_of_and_tried_again(tmp_path, monkeypatch):
    bench = Clearing(tmp_path / "pins.txt", monkeypatch)
    start, refusals = child.python_process, [OSError(11, "Resource temporarily unavailable")] * 2

    async def refused_at_first(*words, **more):
        if refusals:
            raise refusals.pop()
        return await start(*words, **more)

    monkeypatch.setattr(clearing, "python_process", refused_at_first)
    await bench.clearer.stand_by("mock")
    await bench.clearer.until_known(20.0)
    assert not bench.clearer.is_ready
    assert "Resource temporarily unavailable" in (await bench.told_next(GuardianLost)).why
    await bench.told_next(GuardianLost)
    await bench.told_next(GuardianReady)
    await bench.close()


async def test_one_that_is_sent_away_ends_and_has_touched_no_line(ready):
    pid = ready.clearer.pid
    await ready.clearer.aclose()
    assert_gone(pid)
    assert ready.driven() == []


async def test_a_bench_whose_relays_are_all_worked_by_hand_needs_none(tmp_path, monkeypatch):
    bench = Clearing(tmp_path / "pins.txt", monkeypatch, relays=())
    await bench.clearer.stand_by("mock")
    await bench.clearer.until_known(20.0)
    assert bench.clearer.pid is None
    assert bench.clearer.beats is None
    assert await bench.clearer.clear("mock")


def test_with_nothing_to_guard_it_ends_with_its_controller_and_touches_no_line(tmp_path):
    record = tmp_path / "pins.txt"
    reading, writing = os.pipe()
    words = [sys.executable, "-m", "firmware_py.switchboard.guardian", str(reading), "1.0"]
    words += ["mock", "--record", str(record), "17=low"]
    done = subprocess.run(
        words, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False, pass_fds=(reading,)
    )
    os.close(reading)
    os.close(writing)
    assert (done.returncode, done.stdout, done.stderr) == (NOTHING_DONE, "ready\n", "")
    assert not record.exists()


def test_a_line_of_mock_pins_belongs_to_one_process_as_on_a_board(tmp_path):
    record = tmp_path / "pins.txt"
    pins = PinRecord(record)
    pins.drive(17, high=True)
    code = "import sys; from firmware_py.devices.pin_record import PinRecord\n"
    code += "PinRecord(sys.argv[1]).drive(17, high=False)"
    other = [sys.executable, "-c", code, str(record)]
    refused = subprocess.run(other, capture_output=True, text=True, check=False)
    assert "line 17 is driven by another process" in refused.stderr
    pins.let_go(17)
    assert subprocess.run(other, check=False).returncode == 0
