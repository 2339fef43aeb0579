"""A controller as the service unit starts it, and the little of systemd that keeps the lamp dark."""

import os
import select
import signal
import socket
import subprocess
import sys
from pathlib import Path

from firmware_py.devices.clock import BootClock
from firmware_py.service.messages import PROTOCOL
from hardware.wiring.pins import read_lines
from tests.emulated_board.pins_from_outside import look, wait_until
from tests.hardware.service_manager import Group, ServiceManager
from tests.service.served_bench import Plain

CONFIG = Path(__file__).parents[2] / "hardware" / "bench.toml"
LAMP = read_lines()["printing lamp"].bcm
# An emulated board is many times slower than a real one.
START_S, LIGHT_S = 120.0, 20.0
# As in embertray.service.
WATCHDOG_S = 5.0


class BenchProcess:
    """The controller on the default bench.toml, with a socket that hears what it tells its manager."""

    def __init__(self, folder: Path, clock: BootClock) -> None:
        self.clock = clock
        folder.mkdir(parents=True)
        self.manager = socket.socket(socket.AF_UNIX, socket.SOCK_DGRAM)
        self.manager.bind(str(folder / "notify"))
        words = ["--config", str(CONFIG), "--state", str(folder), "--socket", str(folder / "bench.sock")]
        self.process = subprocess.Popen(
            [sys.executable, "-m", "tui.cli", "serve", *words],
            env=os.environ
            | {"NOTIFY_SOCKET": str(folder / "notify"), "WATCHDOG_USEC": f"{WATCHDOG_S * 1e6:.0f}"},
        )
        self._until("READY=1", START_S)
        self.client = Plain(folder / "bench.sock")
        self.client.ask(message="hello", protocol=PROTOCOL)

    def _until(self, word: str, within_s: float) -> None:
        self.manager.settimeout(within_s)
        while self.manager.recv(100).decode() != word:
            pass

    @property
    def switchboard(self) -> int:
        """Get the number of the switchboard's process."""
        found = self._switchboards()
        if len(found) != 1:
            raise LookupError(f"switchboards {found}")
        return found[0]

    def _switchboards(self) -> list[int]:
        children = Path(f"/proc/{self.process.pid}/task/{self.process.pid}/children").read_text().split()
        named = {int(pid): Path(f"/proc/{pid}/cmdline").read_bytes().split(b"\0") for pid in children}
        return [pid for pid, words in named.items() if b"firmware_py.switchboard" in words]

    def expose(self, seconds: float) -> float:
        """Light the lamp for ``seconds`` [s]; return when [boot s] its line was seen high."""
        if not (self.client.look().get("print") or {}).get("is_open"):
            self._do("open-print", negative="glass", paper="contact paper")
        self._do("set-base", base_s=seconds)
        self._do("expose")
        lit_s = wait_until(LAMP, lit=True, within_s=LIGHT_S, clock=self.clock)
        if lit_s is None:
            raise TimeoutError(f"the lamp's line did not go high: {look(LAMP)}, {self.client.look()}")
        return lit_s

    def _do(self, act: str, **rest: object) -> None:
        answer = self.client.do(act, **rest)
        if answer["message"] != "done":
            raise RuntimeError(f"{act}: {answer}")

    def strike(self, victims: str, number: signal.Signals) -> float:
        """Send a signal to ``controller``, ``switchboard`` or ``both``; return when [boot s]."""
        numbers = {"controller": [self.process.pid], "switchboard": [self.switchboard]}
        numbers["both"] = [*numbers["switchboard"], *numbers["controller"]]
        at_s = self.clock.now_s()
        for pid in numbers[victims]:
            os.kill(pid, number)
        return at_s

    def be_its_manager(self) -> None:
        """Do what the unit does when the controller ends, or shows no life for its patience."""
        group = Group(self.process.pid) if self.process.poll() is None else None
        gone = os.pidfd_open(self.process.pid) if self.process.returncode is None else None
        while gone is not None:
            ready = select.select([self.manager.fileno(), gone], [], [], WATCHDOG_S)[0]
            if gone in ready or not ready:
                break
            self.manager.recv(100)
        manager = ServiceManager(CONFIG)
        if group is None:
            manager.stop_post()
        else:
            manager.lose_patience(group)
            group.close()
        self.process.wait()

    def end(self) -> None:
        """End the controller in whatever state it is."""
        if self.process.poll() is None:
            self.process.send_signal(signal.SIGCONT)
            self.process.terminate()
            try:
                self.process.wait(20.0)
            except subprocess.TimeoutExpired:
                self.process.kill()
                self.process.wait()
        self.client.close()
        self.manager.close()
