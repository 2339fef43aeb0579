"""A temperature probe on the 1-Wire bus, read through the kernel's files and believed only when proved."""

from __future__ import annotations

import re
from pathlib import Path

from firmware_py.craft.refusal import Refused
from firmware_py.devices.probe import NoReading, Reading, believed

DEVICES = Path("/sys/bus/w1/devices")
# ± 0.5 K from -10 to +85 degC. Source: the probe's data sheet, from memory.
TOLERANCE_K = 0.5

# What each family's scratchpad means. Source: kernel documentation, "Kernel driver w1_therm".
SIXTEENTHS = {"28", "22", "42"}
HALVES = {"10"}

# The kernel's two lines: nine bytes with the verdict on their checksum; the bytes again with millidegrees.
_BYTES = r"((?:[0-9a-f]{2} ){9})"
_TEXT = re.compile(rf"{_BYTES}: crc=[0-9a-f]{{2}} (YES|NO)\n{_BYTES}t=(-?\d{{1,7}})\n?")
_SERIAL = re.compile(r"([0-9a-f]{2})-[0-9a-f]{12}")
_TEXT_LIMIT = 512
# The kernel's own reckoning of the same bytes may round; it can not be further off than this.
_AGREE_K = 0.1


def crc8(data: bytes) -> int:
    """Return the 1-Wire checksum of ``data``: x8 + x5 + x4 + 1, reflected.

    **Source:** Maxim Application Note 27.
    """
    crc = 0
    for byte in data:
        crc ^= byte
        for _ in range(8):
            crc = crc >> 1 ^ (0x8C if crc & 1 else 0)
    return crc


def read_w1_slave(text: str, family: str) -> float:
    """Return the temperature [degC] that the kernel's ``w1_slave`` text proves; Raises Refused.

    The second line repeats the last *good* bytes, so only the first can be trusted, and only when its
    checksum, reckoned here again, is right. A shorted bus reads as nine zeros with a right checksum.
    **Source:** kernel documentation, "Kernel driver w1_therm".
    """
    match = _TEXT.fullmatch(text)
    if match is None:
        raise Refused(f"unreadable answer {text[:60]!r}")
    fresh, verdict, kept, thousandths = match.groups()
    scratchpad = bytes.fromhex(fresh)
    if verdict != "YES" or crc8(scratchpad[:8]) != scratchpad[8]:
        raise Refused("the checksum is wrong: usually a long, wet or loose cable")
    if not any(scratchpad):
        raise Refused("nothing but zeros: usually a short circuit on the bus")
    bath_degC = _decode(scratchpad, family)
    if fresh != kept or abs(bath_degC - int(thousandths) / 1000) > _AGREE_K:
        raise Refused("the two lines of the answer contradict each other")
    return bath_degC


def _decode(scratchpad: bytes, family: str) -> float:
    raw = int.from_bytes(scratchpad[:2], "little", signed=True)
    if family in SIXTEENTHS:
        if raw == 0x0550:
            raise Refused("85.0 degC, the value it shows before it has measured: usually too little power")
        return raw / 16
    remain, per_degree = scratchpad[6], scratchpad[7]
    if raw == 0x00AA and remain == 0x0C:
        raise Refused("85.0 degC, the value it shows before it has measured: usually too little power")
    if per_degree == 0:
        raise Refused("a count of zero for each degree")
    return (raw >> 1) - 0.25 + (per_degree - remain) / per_degree


class OneWireProbe:
    """One probe by its ``serial`` (such as ``28-0123456789ab``) in the folder of the kernel's 1-Wire devices.

    A read starts a conversion and waits for it, 0.75 s at full resolution.
    """

    blocking = True

    def __init__(
        self,
        name: str,
        serial: str,
        *,
        folder: Path = DEVICES,
        tolerance_K: float = TOLERANCE_K,
        offset_K: float = 0.0,
    ) -> None:
        match = _SERIAL.fullmatch(serial)
        if match is None or match[1] not in SIXTEENTHS | HALVES:
            families = ", ".join(sorted(SIXTEENTHS | HALVES))
            raise Refused(f"serial {serial!r}", allowed=f"28-0123456789ab; family {families}")
        self.name = name
        self._family = match[1]
        self._file = folder / serial / "w1_slave"
        self._tolerance_K = tolerance_K
        self._offset_K = offset_K
        self._closed = False

    def read(self, now_s: float) -> Reading | NoReading:
        """Measure the temperature; ``now_s`` [boot s] stamps the answer."""
        if self._closed:
            return NoReading("the probe is closed", now_s)
        try:
            bath_degC = read_w1_slave(self._answer(), self._family) + self._offset_K
        except Refused as refusal:
            return NoReading(refusal.what, now_s)
        return believed(bath_degC, self._tolerance_K, now_s)

    def close(self) -> None:
        """Let the wire go; afterwards `read` gives `NoReading`."""
        self._closed = True

    def _answer(self) -> str:
        try:
            with self._file.open("rb") as file:
                return file.read(_TEXT_LIMIT).decode("ascii")
        except FileNotFoundError:
            raise Refused(f"no probe {self._file.parent.name} on the bus: usually the plug") from None
        except OSError as error:
            raise Refused(
                f"no answer from the bus ({error.strerror}): usually the plug or a wet cable"
            ) from None
        except UnicodeDecodeError:
            raise Refused("an answer that is not text") from None
