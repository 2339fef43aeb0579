"""A real controller process on mock pins and a fake 1-Wire folder, and a plain client for it."""

from __future__ import annotations

import json
import os
import select
import signal
import socket
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Any

import firmware_py
from firmware_py.devices.clock import BootClock
from firmware_py.devices.onewire import crc8
from firmware_py.service.messages import PROTOCOL

SERIAL = "28-0123456789ab"
SAFELIGHT, LAMP = 17, 22
CLOCK = BootClock()


class Plain:
    """A client that speaks raw lines, so that it can also speak badly."""

    def __init__(self, path: Path) -> None:
        self.socket = socket.socket(socket.AF_UNIX)
        self.socket.settimeout(20.0)
        try:
            self.socket.connect(str(path))
        except OSError:
            self.socket.close()
            raise
        self.lines = self.socket.makefile("rb")
        self.tickets = 0

    def send(self, line: bytes) -> None:
        self.socket.sendall(line)

    def hear(self) -> dict[str, Any]:
        line = self.lines.readline()
        assert line, "the controller closed the line"
        heard: dict[str, Any] = json.loads(line)
        return heard

    def ask(self, **message: Any) -> dict[str, Any]:
        self.send(json.dumps(message).encode() + b"\n")
        return self.hear()

    def greet(self) -> Plain:
        assert self.ask(message="hello", protocol=PROTOCOL)["message"] == "welcome"
        return self

    def do(self, act: str, **rest: Any) -> dict[str, Any]:
        self.tickets += 1
        return self.ask(message="do", ticket=self.tickets, act={"act": act, **rest})

    def look(self) -> dict[str, Any]:
        bench: dict[str, Any] = self.ask(message="look")["bench"]
        return bench

    def close(self) -> None:
        self.lines.close()
        self.socket.close()


class ServedBench:
    """The folders and files of one bench, and its controller process."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.state = folder / "state"
        self.socket = self.state / "bench.sock"
        self.journal = self.state / "journal.db"
        self.pin_record = folder / "pins.record"
        self.wire = folder / "w1" / SERIAL / "w1_slave"
        self.config = folder / "bench.toml"
        self.config.write_text(
            f"""
[bench]
pins = "mock"
state = "{self.state}"
pin_record = "{self.pin_record}"
[relay.safelight]
pin = {SAFELIGHT}
[relay.printing-lamp]
pin = {LAMP}
[probe.developer]
serial = "{SERIAL}"
folder = "{folder / "w1"}"
""",
            encoding="utf-8",
        )
        self.process: subprocess.Popen[bytes] | None = None
        self.clients: list[Plain] = []

    def warm(self, bath_degC: float) -> None:
        """Let the fake wire give a temperature, in the kernel's own form."""
        raw = round(bath_degC * 16).to_bytes(2, "little", signed=True) + bytes(
            [0x4B, 0x46, 0x7F, 0xFF, 0, 0x10]
        )
        scratchpad = " ".join(f"{byte:02x}" for byte in (*raw, crc8(raw)))
        self.wire.parent.mkdir(parents=True, exist_ok=True)
        text = f"{scratchpad} : crc={crc8(raw):02x} YES\n{scratchpad} t={round(bath_degC * 1000)}\n"
        fresh = self.wire.with_suffix(".fresh")
        fresh.write_text(text, encoding="ascii")
        fresh.replace(self.wire)

    def start(self) -> None:
        environment = os.environ | {"PYTHONPATH": str(Path(firmware_py.__file__).parents[1])}
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tui.cli", "serve", "--config", str(self.config)],
            env=environment,
            stderr=subprocess.PIPE,
        )

    def client(self) -> Plain:
        """Connect as soon as the controller listens."""
        assert self.process is not None
        deadline_s = CLOCK.now_s() + 40.0
        while CLOCK.now_s() < deadline_s:
            if self.process.poll() is not None:
                assert self.process.stderr is not None
                raise AssertionError(self.process.stderr.read().decode())
            try:
                return self.stranger().greet()
            except OSError:
                pause(0.02)
        raise AssertionError("the controller does not listen")

    def stranger(self) -> Plain:
        """Connect without a word."""
        client = Plain(self.socket)
        self.clients.append(client)
        return client

    def kill(self, number: int = signal.SIGKILL) -> float:
        """Signal the controller; return the moment [boot s]."""
        assert self.process is not None
        at_s = CLOCK.now_s()
        self.process.send_signal(number)
        self.process.wait(10.0)
        assert self.process.stderr is not None
        self.process.stderr.close()
        return at_s

    def pins(self) -> list[tuple[float, int, bool]]:
        """Return the pins' own record: moment [boot s], line, level."""
        rows = [line.split() for line in self.pin_record.read_text().splitlines()]
        return [(float(r[0]), int(r[1]), r[3] == "1") for r in rows if r[2] == "out"]


def pause(seconds: float) -> None:
    """Wait for something outside this process to go on."""
    select.select([], [], [], seconds)


def wait_for(what: Any, seconds: float = 30.0) -> None:
    """Wait until ``what()`` is true, or fail."""
    deadline_s = CLOCK.now_s() + seconds
    while not what():
        assert CLOCK.now_s() < deadline_s, "it did not come to pass"
        pause(0.02)


@contextmanager
def served(folder: Path) -> Iterator[ServedBench]:
    bench = ServedBench(folder)
    bench.warm(20.0)
    bench.start()
    try:
        yield bench
    finally:
        if bench.process is not None and bench.process.poll() is None:
            bench.kill(signal.SIGTERM)
        for client in bench.clients:
            client.close()
