"""What the camera looks at: the sky above it, the subject, and where the sun stands to them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import TypeVar

from firmware_py.craft.actinic import Light, air_mass
from firmware_py.craft.refusal import Refused, shown

__all__ = [
    "LIGHTINGS",
    "SKIES",
    "SUBJECTS",
    "Sky",
    "Subject",
    "light_on",
    "lighting_called",
    "sky_called",
    "subject_called",
]

Known = TypeVar("Known")

# How much of the sun's own light counts. The US Army course SS0508 (seen) gives side light one stop more than
# front light and back light two; these parts give that to a panchromatic plate with the sun at 45 degrees.
LIGHTINGS: Mapping[str, float] = MappingProxyType({"front": 1.0, "side": 0.45, "back": 0.2, "shade": 0.0})


@dataclass(frozen=True, slots=True)
class Sky:
    """A sky: stops darker than a clear one, or how much of the sun comes through haze.

    ``sun`` is what is left of the sun's light with the sun at 45 degrees; ``overcast`` skies cast no
    shadows. ``doubt_stops`` is how far two such skies differ (own estimate). Source: beside each.
    """

    name: str
    words: str
    stops: float = 0.0
    sun: float = 1.0
    overcast: bool = False
    doubt_stops: float = 0.0


SKIES: Mapping[str, Sky] = MappingProxyType(
    {
        sky.name: sky
        for sky in (
            Sky("clear", "clear sky"),
            # A third of a stop brighter: V. Setälä, Valokuvaus, 1940, as quoted in the PyNomo manual (seen).
            Sky("white-clouds", "sun among white clouds", stops=-1 / 3, doubt_stops=0.3),
            # Twice when shadows are weak: Practical Photography par. 735 (seen); 0.45 gives that.
            Sky("hazy", "weak shadows", sun=0.45, doubt_stops=0.5),
            # Four times when there are none: Practical Photography par. 736 (seen); 2 to 4 in handbooks.
            Sky("cloudy", "no shadows", stops=2.0, overcast=True, doubt_stops=0.6),
            # An eighth of a clear day's light: a handbook (seen), and the US Army course's three stops.
            Sky("heavy", "heavy cloud", stops=3.0, overcast=True, doubt_stops=0.8),
            # Three and two thirds: Setälä, as above.
            Sky("storm", "thunder cloud", stops=11 / 3, overcast=True, doubt_stops=1.0),
        )
    }
)


@dataclass(frozen=True, slots=True)
class Subject:
    """A subject: how much of it stands upright, and stops more than a landscape with foreground.

    Source: the stops from V. Setälä, Valokuvaus, 1940, as quoted in the PyNomo manual (seen), in tenths of a
    logarithm there; the foliage from Practical Photography par. 736 (seen); the upright shares: own.
    """

    name: str
    words: str
    upright: float
    stops: float = 0.0


# A landscape is mostly ground. One part in six upright was chosen (own) so that noon in December against June
# near 52 N comes to the printed four times; the printed fifteen times at 9 a.m. is then a check on it.
_LANDSCAPE = 1 / 6
SUBJECTS: Mapping[str, Subject] = MappingProxyType(
    {
        subject.name: subject
        for subject in (
            Subject("landscape", "landscape with foreground", _LANDSCAPE),
            Subject("distance", "open landscape, distant view", _LANDSCAPE, -2 / 3),
            Subject("beach", "beach, or snow with foreground", _LANDSCAPE, -4 / 3),
            Subject("sea", "open sea, snow field", _LANDSCAPE, -2.0),
            Subject("foliage", "dark foliage in the foreground", _LANDSCAPE, 1.0),
            Subject("wood", "inside a wood", _LANDSCAPE, 11 / 3),
            Subject("street", "buildings, street", 1.0, 2 / 3),
            Subject("figure", "person in the open, avenue under trees", 1.0, 5 / 3),
            Subject("level", "level surface, a copy laid flat", 0.0),
            Subject("upright", "upright surface, a wall", 1.0),
        )
    }
)


def light_on(light: Light, sky: Sky, subject: Subject, lighting: str) -> float:
    """Return how much light a scene has, in the parts of ``light``, without the subject's own stops.

    Open shade is what an upright surface has that is turned from the sun. Under an overcast sky the sun's
    side makes no difference, and open shade has half the sky.
    Source: the receivers of `Light`; that clouds need no correction for side and back light: US Army course
    SS0508 (seen).
    """
    share = LIGHTINGS[lighting_called(lighting)]
    brighter = 2**-sky.stops
    if sky.overcast:
        open_light = _mixed(light, 1.0, _LANDSCAPE) * brighter
        return open_light / 2 if lighting == "shade" else open_light
    through = light.dimmed(sky.sun ** (air_mass(light.altitude_deg) / air_mass(45)))
    if lighting == "shade":
        return through.shaded * brighter
    return _mixed(through, share, subject.upright) * brighter


def sky_called(name: str) -> Sky:
    """Return the sky of that name, or refuse it with the known ones. Source: own."""
    return _called(name, SKIES, "sky")


def subject_called(name: str) -> Subject:
    """Return the subject of that name, or refuse it with the known ones. Source: own."""
    return _called(name, SUBJECTS, "subject")


def lighting_called(name: str) -> str:
    """Return ``name`` if it is a known lighting, or refuse it. Source: own."""
    _called(name, LIGHTINGS, "lighting")
    return name


def _mixed(light: Light, share: float, upright: float) -> float:
    """Return the light on ground and uprights, of which only ``share`` of the sun counts."""
    level = light.dimmed(share).level
    standing = light.shaded + share * (light.facing - light.shaded)
    return (1 - upright) * level + upright * standing


def _called(name: str, known: Mapping[str, Known], kind: str) -> Known:
    if name not in known:
        raise Refused(f"{shown(name)} is not known", where=kind, allowed=", ".join(known))
    return known[name]
