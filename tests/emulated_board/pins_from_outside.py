"""A line as the kernel's pin controller shows it, whoever holds it: read in the guest."""

import re
import select
from dataclasses import dataclass
from pathlib import Path

from firmware_py.devices.clock import BootClock

PINCTRL = Path("/sys/kernel/debug/pinctrl")
LOOK_EVERY_S = 0.002


@dataclass(frozen=True, slots=True)
class Line:
    """What a line does: its function, and the level at the pin."""

    function: str
    high: bool

    @property
    def is_lit(self) -> bool:
        """Get whether it drives what hangs on it. An input drives nothing: the pull-down has it."""
        return self.function == "gpio_out" and self.high


def look(bcm: int) -> Line:
    """Return the line as it is now."""
    (table,) = PINCTRL.glob("*/pins")
    found = re.search(
        rf"^pin {bcm} \(gpio{bcm}\) .*?function (\w+) in (hi|lo)", table.read_text(), re.MULTILINE
    )
    if found is None:
        raise LookupError(f"line {bcm} in {table}")
    return Line(found[1], found[2] == "hi")


def wait_until(bcm: int, *, lit: bool, within_s: float, clock: BootClock) -> float | None:
    """Return the moment [boot s] at which the line was seen lit, or not lit; None if it was not in time."""
    deadline_s = clock.now_s() + within_s
    while look(bcm).is_lit is not lit:
        if clock.now_s() > deadline_s:
            return None
        select.select([], [], [], LOOK_EVERY_S)
    return clock.now_s()
