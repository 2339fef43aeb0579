"""The order in which a service's processes are ended, as its unit says, played with real processes.

**Source:** the manual pages systemd.kill(5) (KillMode=, KillSignal=) and systemd.service(5) (ExecStopPost=,
WatchdogSignal=, TimeoutStopSec=) of systemd 252. That under ``KillMode=mixed`` the watchdog's signal reaches
the main process alone was seen on an emulated board; no page says it.
"""

from __future__ import annotations

import os
import select
import signal
import subprocess
import sys
from contextlib import suppress
from pathlib import Path

from firmware_py.devices.clock import BootClock

UNIT = Path(__file__).parents[2] / "hardware" / "systemd" / "embertray.service"


def unit_value(key: str) -> str:
    """Return what the controller's unit sets ``key`` to."""
    lines = UNIT.read_text(encoding="utf-8").splitlines()
    (value,) = (line.partition("=")[2] for line in lines if line.startswith(f"{key}="))
    return value


class Group:
    """A service's processes: the main one and those it started, as they are now."""

    def __init__(self, main: int) -> None:
        self.main = main
        children = Path(f"/proc/{main}/task/{main}/children").read_text(encoding="ascii").split()
        self._handles = {pid: os.pidfd_open(pid) for pid in (main, *map(int, children))}

    def pid_of(self, module: str) -> int:
        """Return the process that runs a module of ours."""
        found = [pid for pid in self._handles if module.encode() in _words(pid)]
        assert len(found) == 1, f"{module}: {found}"
        return found[0]

    def send(self, number: signal.Signals, *, main_only: bool) -> None:
        """Send a signal to all that still run, or to the main process alone."""
        for pid, handle in self._handles.items():
            if pid == self.main or not main_only:
                with suppress(ProcessLookupError):
                    signal.pidfd_send_signal(handle, number)

    def wait(self, seconds: float, *, main_only: bool) -> bool:
        """Return whether all, or the main process, ended within ``seconds`` [s]."""
        clock = BootClock()
        due_s = clock.now_s() + seconds
        handles = [self._handles[self.main]] if main_only else list(self._handles.values())
        return all(select.select([each], [], [], max(0.0, due_s - clock.now_s()))[0] for each in handles)

    def close(self) -> None:
        """Kill what is left."""
        self.send(signal.SIGKILL, main_only=False)
        for handle in self._handles.values():
            os.close(handle)


class ServiceManager:
    """Ends a group as the unit says, or by another ``kill_mode``; ``config`` is the bench.toml."""

    def __init__(self, config: Path, kill_mode: str | None = None) -> None:
        self._config = config
        self._main_only = (kill_mode or unit_value("KillMode")) == "mixed"

    def lose_patience(self, group: Group) -> None:
        """Do what follows a silence of WatchdogSec."""
        group.send(signal.Signals[unit_value("WatchdogSignal")], main_only=self._main_only)
        group.wait(10.0, main_only=True)
        self.stop_post()

    def stop(self, group: Group) -> bool:
        """Stop the service; return whether it ended in good order."""
        group.send(signal.SIGTERM, main_only=self._main_only)
        in_order = group.wait(float(unit_value("TimeoutStopSec")), main_only=False)
        if not in_order:
            group.send(signal.SIGKILL, main_only=False)
        self.stop_post()
        return in_order

    def stop_post(self) -> None:
        """Run what is run after every end."""
        words = unit_value("ExecStopPost").split()
        words[0], words[-1] = sys.executable, str(self._config)
        subprocess.run(words, check=False, stderr=subprocess.DEVNULL)


def _words(pid: int) -> list[bytes]:
    try:
        return Path(f"/proc/{pid}/cmdline").read_bytes().split(b"\0")
    except OSError:
        return []
