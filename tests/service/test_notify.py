"""Word to the service manager, heard on a socket of our own in its place."""

import asyncio
import os
import signal
import socket
import subprocess
import sys
from contextlib import contextmanager
from pathlib import Path

import pytest

import firmware_py
from firmware_py.devices.clock import BootClock, SimulatedClock
from firmware_py.service.notify import ALIVE, READY, Manager, manager, show_life
from tests.service.served_bench import ServedBench

CLOCK = BootClock()


class Listener:
    """What a service manager hears, in order."""

    def __init__(self, address):
        self.socket = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
        self.socket.bind(address)

    def hear(self, within_s=30.0):
        self.socket.settimeout(within_s)
        return self.socket.recv(1000).decode()


@pytest.fixture
def listener(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    heard = Listener("notify")
    yield heard
    heard.socket.close()


def test_without_a_manager_nothing_is_said():
    assert manager({}) == Manager()
    assert manager({"NOTIFY_SOCKET": "relative/path"}) == Manager()
    Manager().tell(READY)


def test_a_word_reaches_the_manager(tmp_path, listener):
    manager({"NOTIFY_SOCKET": str(tmp_path / "notify")}).tell(READY)
    assert listener.hear() == "READY=1"


def test_an_abstract_address_is_reached_too():
    heard = Listener(f"\0embertray-{os.getpid()}")
    manager({"NOTIFY_SOCKET": f"@embertray-{os.getpid()}"}).tell(READY)
    assert heard.hear() == "READY=1"
    heard.socket.close()


def test_a_manager_that_is_gone_is_no_trouble(tmp_path):
    Manager(str(tmp_path / "nobody")).tell(READY)


@pytest.mark.parametrize(
    ("variables", "patience_s"),
    [
        ({}, None),
        ({"WATCHDOG_USEC": "5000000"}, 5.0),
        ({"WATCHDOG_USEC": "5000000", "WATCHDOG_PID": str(os.getpid())}, 5.0),
        ({"WATCHDOG_USEC": "5000000", "WATCHDOG_PID": "1"}, None),
        ({"WATCHDOG_USEC": "0"}, None),
        ({"WATCHDOG_USEC": "soon"}, None),
    ],
)
def test_the_watchdog_is_only_ours_where_it_names_us(variables, patience_s):
    assert manager({"NOTIFY_SOCKET": "/run/notify", **variables}).patience_s == patience_s


async def test_life_is_shown_twice_within_the_patience_and_only_while_all_is_sound():
    clock = SimulatedClock()
    told = []

    class Recorder(Manager):
        def tell(self, word):
            told.append((clock.now_s() - 1000.0, word))

    def is_sound():
        at_s = clock.now_s() - 1000.0
        if at_s > 20.0:
            raise KeyError("enough")
        return not 5.0 < at_s < 15.0

    with pytest.raises(KeyError):
        await show_life(Recorder("/run/notify", 5.0), clock, is_sound)
    assert told == [(at_s, ALIVE) for at_s in (0.0, 2.5, 5.0, 15.0, 17.5, 20.0)]


async def test_a_manager_without_a_watchdog_gets_no_signs_of_life():
    await asyncio.wait_for(show_life(Manager("/run/notify"), CLOCK, lambda: True), 5.0)


@contextmanager
def a_served_bench(tmp_path, **more):
    bench = ServedBench(tmp_path)
    bench.warm(20.0)
    environment = os.environ | {
        "PYTHONPATH": str(Path(firmware_py.__file__).parents[1]),
        "NOTIFY_SOCKET": str(tmp_path / "notify"),
        **more,
    }
    command = [sys.executable, "-m", "tui.cli", "serve", "--config", str(bench.config)]
    bench.process = subprocess.Popen(command, env=environment, stderr=subprocess.PIPE)
    try:
        yield bench
    finally:
        for client in bench.clients:
            client.close()
        if bench.process.poll() is None:
            bench.kill(signal.SIGTERM)


def test_a_controller_is_ready_when_it_listens_alive_while_it_works_and_says_that_it_stops(
    tmp_path, listener
):
    with a_served_bench(tmp_path, WATCHDOG_USEC="400000") as bench:
        assert listener.hear() == "READY=1"
        bench.stranger().greet().look()
        assert [listener.hear() for _ in range(3)] == ["WATCHDOG=1"] * 3
        bench.process.send_signal(signal.SIGTERM)
        word = "WATCHDOG=1"
        while word == "WATCHDOG=1":
            word = listener.hear()
        assert word == "STOPPING=1"
        assert bench.process.wait(10.0) == 0
        bench.process.stderr.close()
