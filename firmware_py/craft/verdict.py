"""The words a finished plate is judged by: how dense, how contrasty, how fogged, and what went wrong."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Literal

Density = Literal["thin", "rather thin", "right", "rather dense", "dense"]
Contrast = Literal["flat", "rather flat", "right", "rather hard", "hard"]
Fog = Literal["none", "slight", "heavy"]
Fault = Literal[
    "frilling",
    "blisters",
    "pinholes",
    "air bells",
    "stain",
    "streaks",
    "uneven",
    "scratches",
    "halation",
    "light leak",
    "reticulation",
]

# From -1 (thin, flat) over 0 (right) to 1 (dense, hard): "rather" is half way. Own.
WEIGHTS: Mapping[str, float] = MappingProxyType(
    {"thin": -1.0, "rather thin": -0.5, "right": 0.0, "rather dense": 0.5, "dense": 1.0}
)
CONTRASTS: Mapping[str, float] = MappingProxyType(
    {"flat": -1.0, "rather flat": -0.5, "right": 0.0, "rather hard": 0.5, "hard": 1.0}
)

# What to look to. Common practice, no source; a data sheet of the plate comes first.
FOG_HINTS: Mapping[str, str] = MappingProxyType(
    {
        "slight": "slight fog: test the safelight again, look at the age of the box",
        "heavy": "heavy fog: do not trust this box or this light before both are tested",
    }
)
FAULTS: Mapping[Fault, str] = MappingProxyType(
    {
        "frilling": "frilling: keep all baths within 2 degrees of one another, or harden first",
        "blisters": "blisters: no strong acid after a carbonate developer without a rinse between",
        "pinholes": "pinholes: dust plate and holder before loading, rock the tray at first",
        "air bells": "air bells: flood the plate in one sweep and rock the tray at once",
        "stain": "stain: rinse well before the fixer, and look to the age of both baths",
        "streaks": "streaks: agitate more evenly",
        "uneven": "uneven: more bath in the tray, agitate at once and in all directions",
        "scratches": "scratches: handle by the edges, one plate to a tray",
        "halation": "halation: back the plate, or keep bright lights out of the picture",
        "light leak": "light leak: test this side of the holder before it is used again",
        "reticulation": "reticulation: too great a step of temperature between two baths",
    }
)


def hints(fog: Fog, faults: Sequence[str]) -> tuple[str, ...]:
    """Return what to look to after such fog and faults; unknown faults give none. Source: as in this room."""
    found = [FOG_HINTS[fog]] if fog in FOG_HINTS else []
    return (*found, *(hint for fault, hint in FAULTS.items() if fault in faults))
