"""What is invented: the town and its light, the boxes of plates and what they are really like, the outings.

Kvarnvik, Skarnholm and Grevsund are no real places, and nobody makes such plates.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime, timedelta, timezone

from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.craft.place import Place

SEED = 1911
PLACE = Place(62.5, 17.5)
DIAL = timezone(timedelta(hours=2))
SIZE = "English half plate"
FIRST_DAY = datetime(2025, 4, 27, tzinfo=UTC)
DAYS_BETWEEN = 9
PLATES_IN_A_BOX = 16
PLATES_A_DAY = 4
HOLDERS = ("1", "2", "3")


@dataclass(frozen=True, slots=True)
class DemoBox:
    """A box: what is written on it, and what its plates are really like.

    ``slower_stops`` [stops] more than its index says does it need; its contrast grows to ``gamma_inf`` by
    ``k_per_min`` [1/min, base e] in a fresh bath; ``fog`` is the density of fog and base; ``measures``:
    whether a step tablet is copied on its plates and read.
    """

    name: str
    short: str
    emulsion: str
    sensitivity: Sensitivity
    index: float
    routine: str
    developer: str
    fixer: str
    slower_stops: float
    gamma_inf: float
    k_per_min: float
    appears_s: float
    fog: float
    measures: bool = False


BOXES = (
    DemoBox(
        name="Skarnholm blue 7",
        short="B7",
        emulsion="Skarnholm blue",
        sensitivity="blue",
        index=3.0,
        routine="pyro-soda-by-appearance",
        developer="pyro-soda",
        fixer="chrome-alum-fixer",
        slower_stops=0.8,
        gamma_inf=1.6,
        k_per_min=0.25,
        appears_s=46.0,
        fog=0.12,
    ),
    DemoBox(
        name="Skarnholm blue 8",
        short="B8",
        emulsion="Skarnholm blue",
        sensitivity="blue",
        index=4.0,
        routine="pyro-soda",
        developer="pyro-soda",
        fixer="plain-hypo",
        slower_stops=-0.3,
        gamma_inf=1.3,
        k_per_min=0.18,
        appears_s=52.0,
        fog=0.10,
    ),
    DemoBox(
        name="Skarnholm ortho 2",
        short="R2",
        emulsion="Skarnholm ortho",
        sensitivity="orthochromatic",
        index=8.0,
        routine="metol-hydroquinone",
        developer="metol-hydroquinone",
        fixer="plain-hypo",
        slower_stops=0.4,
        gamma_inf=1.5,
        k_per_min=0.2,
        appears_s=31.0,
        fog=0.15,
    ),
    DemoBox(
        name="Skarnholm ortho 3",
        short="R3",
        emulsion="Skarnholm ortho",
        sensitivity="orthochromatic",
        index=8.0,
        routine="metol-hydroquinone-by-inspection",
        developer="metol-hydroquinone",
        fixer="plain-hypo",
        slower_stops=-0.7,
        gamma_inf=1.4,
        k_per_min=0.15,
        appears_s=35.0,
        fog=0.28,
    ),
    DemoBox(
        name="Grevsund pan 1",
        short="P1",
        emulsion="Grevsund pan",
        sensitivity="panchromatic",
        index=12.0,
        routine="panchromatic-in-the-dark",
        developer="metol-hydroquinone",
        fixer="plain-hypo",
        slower_stops=0.1,
        gamma_inf=1.45,
        k_per_min=0.22,
        appears_s=28.0,
        fog=0.18,
        measures=True,
    ),
)

# (sky, first hour by the dial, stop); one for each outing, the boxes in turn.
OUTINGS = (
    ("clear", 10, 16.0),
    ("white-clouds", 13, 22.0),
    ("cloudy", 11, 11.0),
    ("clear", 16, 16.0),
    ("hazy", 9, 16.0),
    ("clear", 7, 16.0),
    ("white-clouds", 12, 22.0),
    ("hazy", 15, 16.0),
    ("clear", 18, 11.0),
    ("cloudy", 12, 11.0),
    ("white-clouds", 10, 22.0),
    ("clear", 14, 22.0),
    ("heavy", 13, 8.0),
    ("hazy", 11, 16.0),
    ("clear", 9, 16.0),
)

# (subject in words, what it is to the reckoning, lighting)
SUBJECTS = (
    ("Kvarnvik jetty at slack water", "landscape", "front"),
    ("Net lofts from the slip", "street", "side"),
    ("Breakwater, swell from the east", "beach", "front"),
    ("Boat under cover, pilot's shed", "figure", "shade"),
    ("Fish racks above the shore", "landscape", "side"),
    ("Skarnholm over the sound", "distance", "front"),
    ("Ferry steps, low water", "street", "front"),
    ("Alder wood behind the ropewalk", "foliage", "front"),
    ("Lighthouse keeper's boat", "landscape", "back"),
    ("Ice house door", "upright", "front"),
    ("Skerries and open sea", "sea", "front"),
)
