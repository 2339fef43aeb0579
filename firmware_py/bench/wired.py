"""What stands on the bench, device by device: how each is connected, and how it is now, in words."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.bench.foot import Foot
from firmware_py.bench.interlocks.held_foot import HeldFoot
from firmware_py.facts.views.bench import DeviceKind


@dataclass(frozen=True, slots=True)
class Wired:
    """A device by its name, and the way it is connected: ``pin 17``, ``one-wire 28-0123456789ab``."""

    kind: DeviceKind
    name: str
    body: str


def foot_state(foot: Foot, held: HeldFoot) -> tuple[str, bool]:
    """Return how the foot switch is, and whether that is trouble."""
    if held.found_down:
        return "down since the start: release it", True
    if foot.stuck:
        return "stays down: release it", True
    return ("down" if foot.is_down else "up"), False
