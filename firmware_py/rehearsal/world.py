"""The simulated bench's probes: in simulated or recorded water, and made to fail at will."""

from __future__ import annotations

import csv
import io
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Literal, Protocol

from firmware_py.craft.refusal import Refused
from firmware_py.craft.simulation import RecordedTrace
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.rehearsal.jacket_world import TOLERANCE_K
from firmware_py.strict_toml import read_text

HEADER = ["time_s", "bath_degC"]
TRACE_LIMIT = 20_000_000
ProbeFault = Literal["probe silent", "probe at 85 degC", "probe jumps", "probe drifts", "probe well"]
DRIFT_K_PER_S = 1.0 / 60.0


@dataclass(frozen=True, slots=True)
class RecordedWater:
    """A recorded temperature in the place of the tray: exactly what the trace says, without noise.

    Its time 0 is the moment the first development starts; before that it reads as at time 0.
    """

    trace: RecordedTrace
    development_started_s: Callable[[], float | None]

    def reading(self, now_s: float) -> Reading | NoReading:
        """Return the trace's temperature at ``now_s`` [boot s]."""
        zero_s = self.development_started_s()
        since_s = 0.0 if zero_s is None else now_s - zero_s
        end_s = self.trace.points[-1][0]
        if since_s > end_s:
            return NoReading(f"the trace ends at {end_s:g} s", now_s)
        return Reading(self.trace.bath_degC(since_s), TOLERANCE_K, now_s, "trace")


class Water(Protocol):
    """What a probe of the rehearsal lies in."""

    def reading(self, now_s: float) -> Reading | NoReading:
        """Return what a probe shows at ``now_s`` [boot s]."""
        ...


class FailingProbe:
    """A probe in simulated water, with faults to order."""

    blocking = False

    def __init__(self, name: str, water: Water) -> None:
        self.name = name
        self._water = water
        self._fault: ProbeFault = "probe well"
        self._drifts_since_s: float | None = None
        self._is_closed = False

    def play_fault(self, fault: ProbeFault) -> None:
        """Let a fault begin, or end with "probe well"."""
        self._fault = fault
        self._drifts_since_s = None

    def read(self, now_s: float) -> Reading | NoReading:
        """Measure the temperature [degC]."""
        if self._is_closed:
            return NoReading("the probe is closed", now_s)
        word = self._water.reading(now_s)
        match self._fault:
            case "probe silent":
                return NoReading("no answer on the wire", now_s)
            case "probe at 85 degC":
                return NoReading("85.0 degC, the value it shows before it has measured", now_s)
            case "probe drifts" if isinstance(word, Reading):
                self._drifts_since_s = self._drifts_since_s or now_s
                drift_K = DRIFT_K_PER_S * (now_s - self._drifts_since_s)
                return Reading(word.bath_degC + drift_K, word.tolerance_K, now_s, word.source)
            case "probe jumps" if isinstance(word, Reading) and round(now_s) % 3 == 0:
                return Reading(word.bath_degC + 10.0, word.tolerance_K, now_s, word.source)
        return word

    def close(self) -> None:
        """Let the wire go."""
        self._is_closed = True

    def plug_in(self) -> None:
        """Be read again, by the next controller; its faults stay with it."""
        self._is_closed = False
        self._drifts_since_s = None


def read_trace(path: Path) -> RecordedTrace:
    """Return the temperature trace in a CSV file with the header ``time_s,bath_degC``.

    Raises Refused with file, line, what was found and what is allowed: times [s] from 0 and rising,
    temperatures within -5 to 60 degC.
    """
    try:
        rows = list(csv.reader(io.StringIO(read_text(path, TRACE_LIMIT))))
    except csv.Error as error:
        raise Refused(f"is not a CSV text ({error})", where=str(path)) from error
    if not rows or [cell.strip() for cell in rows[0]] != HEADER:
        found = ",".join(rows[0]) if rows else "nothing"
        raise Refused(f"header is {found[:80]!r}", where=f"{path}, line 1", allowed=",".join(HEADER))
    points = [_point(row, f"{path}, line {n}") for n, row in enumerate(rows[1:], 2) if any(row)]
    if points and points[0][0] != 0.0:
        raise Refused(f"begins at {points[0][0]:g} s", where=f"{path}, line 2", allowed="time_s from 0")
    try:
        return RecordedTrace(tuple(points))
    except Refused as refusal:
        raise refusal.at(str(path)) from refusal


def _point(row: list[str], where: str) -> tuple[float, float]:
    try:
        time_s, bath_degC = (float(cell) for cell in row)
    except ValueError:
        raise Refused(f"found {','.join(row)[:80]!r}", where=where, allowed="two numbers") from None
    if not 0.0 <= time_s <= 1e6:
        raise Refused(f"time_s is {time_s:g}", where=where, allowed="0 to 1000000")
    if not -5.0 <= bath_degC <= 60.0:
        raise Refused(f"bath_degC is {bath_degC:g}", where=where, allowed="-5 to 60")
    return time_s, bath_degC
