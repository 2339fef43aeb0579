"""The files of one bench: settings, routines, fake wire, and the folder that it keeps its book in."""

from __future__ import annotations

import os
import subprocess
from pathlib import Path

from tests.faults.stage.seams import Bent, Seams
from tests.faults.stage.users import give_to_bench_user

SAFELIGHT, LAMP, HEATER, FOOT = 17, 22, 27, 24
RELAYS = {"safelight": SAFELIGHT, "printing-lamp": LAMP, "heater": HEATER}
PROBES = {"developer": ("28-0123456789ab", "tray 1"), "jacket": ("28-00000000000c", "jacket")}
DEVELOP_S, RINSE_S, FIX_S, WASH_S = 2.5, 1.0, 1.0, 1.0
REFERENCE_degC, PER_10_K = 20.0, 2.36
LONGEST_ON_S, BULB_S = 8.0, 1.5
SMALL_DISK_BYTES = 6 << 20

_BENCH = """
[bench]
pins = "mock"
state = "{state}"
pin_record = "{pins}"
routines = "{routines}"
[relay.safelight]
pin = {SAFELIGHT}
[relay.printing-lamp]
pin = {LAMP}
longest_on = "{LONGEST_ON_S} s"
[relay.heater]
pin = {HEATER}
[foot-switch]
body = "gpio"
pin = {FOOT}
[lamp]
lag = "20 ms"
lag_doubt = "2 ms"
shortest = "30 ms"
pause = "0.1 s"
bulb_ceiling = "{BULB_S} s"
[heater]
stay_limit = "2 s"
"""
_PROBE = '[probe.{name}]\nserial = "{serial}"\nplace = "{place}"\nfolder = "{folder}"\n'
_ROOM = '[probe.room]\nbody = "serial-lines"\nplace = "room"\nport = "{port}"\npattern = "T {{}}"\n'
_ROUTINE = f"""
title = "A development of seconds, for the storm"
source = "Own: no plate is developed like this."
[[step]]
name = "Develop"
kind = "develop"
bath = "developer"
[step.development]
target = "{DEVELOP_S} s"
reference = "{REFERENCE_degC} degC"
coefficient = "{PER_10_K}/10K"
[[step]]
name = "Rinse"
kind = "rinse"
bath = "water"
time = "{RINSE_S} s"
[[step]]
name = "Fix"
kind = "fix"
bath = "plain hypo"
time = "{FIX_S} s"
[[step]]
name = "Wash"
kind = "wash"
bath = "running water"
time = "{WASH_S} s"
"""
ROUTINE = "seconds"


class BenchFolder:
    """Where one session's bench lives. ``small_disk`` lays the book's folder on a disk of a few megabytes."""

    def __init__(self, root: Path, *, small_disk: bool = False) -> None:
        self.root = root
        self.state = root / "state"
        self.journal = self.state / "journal.db"
        self.socket = self.state / "bench.sock"
        self.pins = root / "pins.record"
        self.said = root / "controller.said"
        self.client_said = root / "client.said"
        self.home = root / "home"
        self.wire = root / "w1"
        self.pedal = root / "pedal"
        self.port = root / "room.tty"
        self.config = root / "bench.toml"
        self.is_small = small_disk
        self.machine_starts = 0
        self.boot_ids: list[tuple[str, float]] = []
        self._pins_kept: list[tuple[Path, float]] = []
        self.seams = Seams("", 0.0, root / "bent", self.pedal)
        self._make()
        self.bent = Bent(self.seams.bent)
        give_to_bench_user(root)

    def begin_machine(self, boot_offset_s: float) -> Seams:
        """Let the machine have been started anew: its pins' record of before is put away."""
        if self.machine_starts:
            kept = self.pins.with_name(f"pins.{self.machine_starts}.record")
            if self.pins.exists():
                self.pins.rename(kept)
            self._pins_kept.append((kept, self.seams.boot_offset_s))
            self.pins.touch()
            give_to_bench_user(self.pins)
        self.machine_starts += 1
        boot = f"{self.root}/{self.machine_starts}"
        self.seams = Seams(boot, boot_offset_s, self.bent.path, self.pedal)
        self.boot_ids.append((self.seams.boot_id, boot_offset_s))
        return self.seams

    def pin_records(self) -> list[tuple[Path, float]]:
        """Every record of the pins with the offset [s] of the boot clock that it was written by."""
        return [*self._pins_kept, (self.pins, self.seams.boot_offset_s)]

    def clean_up(self) -> None:
        """Let a small disk go."""
        if self.is_small:
            subprocess.run(["umount", "-l", str(self.state)], check=True)

    def _make(self) -> None:
        for folder in (self.root, self.state, self.home, self.wire, self.root / "routines"):
            folder.mkdir(mode=0o700 if folder == self.state else 0o755, exist_ok=True)
        if self.is_small:
            size = f"size={SMALL_DISK_BYTES},mode=0700"
            subprocess.run(["mount", "-t", "tmpfs", "-o", size, "storm", str(self.state)], check=True)
        os.mkfifo(self.pedal)
        self.pins.touch()
        (self.root / "routines" / f"{ROUTINE}.toml").write_text(_ROUTINE, encoding="utf-8")
        text = _BENCH.format(state=self.state, pins=self.pins, routines=self.root / "routines", **globals())
        for name, (serial, place) in PROBES.items():
            text += _PROBE.format(name=name, serial=serial, place=place, folder=self.wire)
            (self.wire / serial).mkdir()
        text += _ROOM.format(port=self.port)
        self.config.write_text(text, encoding="utf-8")
