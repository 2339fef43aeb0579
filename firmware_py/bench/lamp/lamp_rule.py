"""What is known of the printing lamp of this bench, and how it is to be used."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final, Literal

from firmware_py.bench.lamp.dose import DoseRule
from firmware_py.craft.lamp import Lag

PRINTING_LAMP: Final = "printing-lamp"
Safelight = Literal["unchanged", "off", "on"]

# A foot that came a moment too late to stop an exposure must not start the next. Common practice, no source.
PAUSE_S = 0.5
BULB_CEILING_S = 120.0
LONGEST_ON_S = 600.0


@dataclass(frozen=True, slots=True)
class LampRule:
    """The lamp called ``name``: its lag, and its ``distance_mm`` [mm] from the frame where it is fixed.

    ``mains_Hz`` [Hz] is given for a switch that waits for the zero of the mains. The lamp is never on for
    longer than ``longest_on_s`` [s], nor by foot alone than ``bulb_ceiling_s`` [s]; nothing lights it within
    ``pause_s`` [s] after it went out. ``safelight`` says what that does during an exposure; ``warm_up``
    are the levels of `firmware_py.craft.warming.WarmUp` of a lamp that is kept lit. ``dose`` is given where a
    light sensor lies beside the paper.
    """

    name: str = "printing lamp"
    lag: Lag = field(default_factory=lambda: Lag(0.0, 0.0, 0.0))
    mains_Hz: float | None = None
    distance_mm: float | None = None
    longest_on_s: float = LONGEST_ON_S
    bulb_ceiling_s: float = BULB_CEILING_S
    pause_s: float = PAUSE_S
    safelight: Safelight = "unchanged"
    warm_up: tuple[tuple[float, float], ...] = ()
    dose: DoseRule | None = None
