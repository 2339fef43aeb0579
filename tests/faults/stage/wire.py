"""The water and the fake wire: a tray that cools, a jacket that the heater's pin warms, two probes' files."""

from __future__ import annotations

import os
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from tests.faults.stage.folder import PROBES
from tests.faults.stage.moments import now_s

ProbeMode = Literal["well", "gone", "85", "bad checksum", "frozen", "jump", "drift", "hot", "slow", "hung"]
# A jacket far smaller than a real one, so that seconds are enough to see it warm.
HEATS_K_PER_S = 0.08
COOLS_K_PER_S = 0.004
SLOW_S = 5.0
JUMP_K = 10.0
DRIFT_K_PER_S = 0.15
HOT_degC = 31.5


@dataclass(frozen=True)
class Served:
    """From ``at_s`` [boot s] on, the probe's file gave ``degC``; None where it gave nothing that counts."""

    at_s: float
    probe: str
    degC: float | None


def crc8(data: bytes) -> int:
    """The 1-Wire checksum, bit by bit: x8 + x5 + x4 + 1. Source: Maxim Application Note 27."""
    crc = 0
    for byte in data:
        for bit in range(8):
            mixed = (crc ^ byte >> bit) & 1
            crc = crc >> 1 ^ (0x8C if mixed else 0)
    return crc


def kernel_text(degC: float, *, good: bool = True) -> str:
    """What the kernel's ``w1_slave`` says of a temperature. Source: kernel documentation, w1_therm."""
    raw = round(degC * 16).to_bytes(2, "little", signed=True) + bytes([0x4B, 0x46, 0x7F, 0xFF, 0, 0x10])
    said = [*raw, crc8(raw) if good else crc8(raw) ^ 0x5A]
    scratchpad = " ".join(f"{byte:02x}" for byte in said)
    verdict = "YES" if good else "NO"
    thousandths = round(degC * 16) * 1000 // 16
    return f"{scratchpad} : crc={crc8(raw):02x} {verdict}\n{scratchpad} t={thousandths}\n"


class Probe:
    """One probe's file, and what is wrong with the probe."""

    def __init__(self, name: str, folder: Path, log: list[Served]) -> None:
        serial, self.place = PROBES[name]
        self.name = name
        self.file = folder / serial / "w1_slave"
        self.mode: ProbeMode = "well"
        self._since_s = 0.0
        self._written: str | None = None
        self._log = log
        self._frozen_degC = 0.0
        self._answer_due_s = 0.0
        self._answer_to = -1

    def become(self, mode: ProbeMode) -> None:
        if self.mode in {"slow", "hung"}:
            self._meet_reader()
            self._let_reader_go("")
        self.mode, self._since_s = mode, now_s()
        self._written = None

    def serve(self, degC: float) -> None:
        """Give what the probe says of water at ``degC``."""
        if self.mode != "frozen":
            self._frozen_degC = degC
        if self.mode in {"slow", "hung"}:
            self._answer_slowly(degC)
        elif self.mode == "gone":
            self._write(None, None)
        elif self.mode == "85":
            self._write(kernel_text(85.0), None)
        elif self.mode == "bad checksum":
            self._write(kernel_text(degC, good=False), None)
        else:
            said_degC = round(self._said_degC(degC) * 16) / 16
            self._write(kernel_text(said_degC), said_degC)

    def _said_degC(self, degC: float) -> float:
        past_s = now_s() - self._since_s
        added_K = {"jump": JUMP_K, "drift": DRIFT_K_PER_S * past_s}.get(self.mode, 0.0)
        return {"frozen": self._frozen_degC, "hot": HOT_degC}.get(self.mode, degC + added_K)

    def _write(self, text: str | None, degC: float | None) -> None:
        if text == self._written and (text is not None or not self.file.exists()):
            return
        if text is None:
            self.file.unlink(missing_ok=True)
        else:
            fresh = self.file.with_suffix(".fresh")
            fresh.write_text(text, encoding="ascii")
            fresh.replace(self.file)
        self._written = text
        self._log.append(Served(now_s(), self.name, degC))

    def _answer_slowly(self, degC: float) -> None:
        """A conversion of five seconds, or without an end: whoever reads waits so long for the file's end."""
        if self._written != self.mode:
            self.file.unlink(missing_ok=True)
            os.mkfifo(self.file)
            self._written = self.mode
            self._log.append(Served(now_s(), self.name, degC if self.mode == "slow" else None))
        if self._answer_to < 0:
            self._meet_reader()
        elif self.mode == "slow" and now_s() >= self._answer_due_s:
            self._let_reader_go(kernel_text(degC))

    def _meet_reader(self) -> None:
        """Hold the other end of the pipe as soon as somebody reads."""
        if self._answer_to < 0:
            with suppress(OSError):  # nobody reads just now
                self._answer_to = os.open(self.file, os.O_WRONLY | os.O_NONBLOCK)
                self._answer_due_s = now_s() + SLOW_S

    def _let_reader_go(self, text: str) -> None:
        if self._answer_to >= 0:
            with suppress(OSError):
                os.write(self._answer_to, text.encode("ascii"))
            os.close(self._answer_to)
            self._answer_to = -1


class Water:
    """Tray and jacket, carried on in real time; ``heats`` asks the pins whether the heater is energised."""

    def __init__(self, folder: Path, heats: Callable[[], bool]) -> None:
        self.log: list[Served] = []
        self.probes = {name: Probe(name, folder, self.log) for name in PROBES}
        self.tray_degC = 20.4
        self.jacket_degC = 21.0
        self.heater: Literal["well", "welded", "dead"] = "well"
        self._heats = heats
        self._moved_s = now_s()

    def advance(self) -> None:
        """Carry the water on to now, and let the probes say it."""
        past_s, self._moved_s = now_s() - self._moved_s, now_s()
        heated = self.heater == "welded" or (self.heater == "well" and self._heats())
        self.jacket_degC += past_s * (HEATS_K_PER_S if heated else -COOLS_K_PER_S)
        self.tray_degC -= past_s * COOLS_K_PER_S
        self.probes["developer"].serve(self.tray_degC)
        self.probes["jacket"].serve(self.jacket_degC)

    def close(self) -> None:
        for probe in self.probes.values():
            probe.become("well")
