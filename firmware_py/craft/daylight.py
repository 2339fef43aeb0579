"""Camera exposure by daylight: from the sun's altitude to seconds at a stop."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime, time

from firmware_py.craft.actinic import LOWEST_DEG, TRUSTED_DEG, Emulsion, air_mass, clear_light
from firmware_py.craft.limits import within
from firmware_py.craft.moment import Dial
from firmware_py.craft.place import Place
from firmware_py.craft.refusal import Refused
from firmware_py.craft.scene import SKIES, SUBJECTS, light_on, sky_called, subject_called
from firmware_py.craft.sun import sun_altitude_deg

__all__ = [
    "ANCHOR_DEG",
    "Hour",
    "Scene",
    "camera_time_s",
    "doubt_stops",
    "filter_remarks",
    "hours_of_day",
    "light_stops",
    "remarks",
]

ANCHOR_DEG = 45.0


@dataclass(frozen=True, slots=True)
class Scene:
    """Everything about the light: plate, sun [deg], sky, subject, lighting, height above the sea [m].

    Refuses names it does not know and lighting that a subject does not have. Source: own.
    """

    emulsion: Emulsion
    altitude_deg: float
    sky: str = "clear"
    subject: str = "landscape"
    lighting: str = "front"
    height_m: float = 0.0

    def __post_init__(self) -> None:
        if self.altitude_deg < LOWEST_DEG:
            raise Refused(
                f"the sun stands at {self.altitude_deg:.1f} degrees: "
                f"{'too low' if self.altitude_deg >= 0 else 'below the horizon'}",
                where="daylight",
                allowed=f"{LOWEST_DEG:g} degree above the horizon or more; twilight is not reckoned",
            )
        subject_called(self.subject)
        sky_called(self.sky)
        if self.subject == "wood" and self.lighting != "front":
            raise Refused("a wood has no front, side or back light", where="lighting", allowed="leave it out")


def light_stops(scene: Scene, *, found_at_deg: float = ANCHOR_DEG) -> float:
    """Return how many stops more than the index says the scene needs [stops].

    The anchor: a plate's index means that f/16 and 1/index second are right for a landscape with
    foreground in bright sun on a clear day at the sea, the sun behind the camera and ``found_at_deg`` [deg]
    high, for every kind of plate alike. At 45 degrees level ground and an upright that faces the sun have
    the same light, so that the index does not hang on the subject's slope. Valid anchors: 15 to 75 degrees.
    Source: f/16 at 1/speed in bright sun: US Army course SS0508 (seen); 45 degrees: own, and Setälä's
    formula as quoted in the PyNomo manual gives 1/126 s at f/16 there for speed 100.
    """
    index_light = clear_light(within("index found at", found_at_deg, 15, 75), scene.emulsion)
    there = light_on(index_light, SKIES["clear"], SUBJECTS["landscape"], "front")
    light = clear_light(scene.altitude_deg, scene.emulsion, scene.height_m)
    subject = SUBJECTS[scene.subject]
    here = light_on(light, SKIES[scene.sky], subject, scene.lighting)
    return math.log2(there / here) + subject.stops


def camera_time_s(
    light: float, *, index: float, f_number: float, factor: float = 1.0, correction_stops: float = 0.0
) -> float:
    """Return the exposure [s] for ``light`` [stops, of `light_stops`] at a stop.

    ``index`` is the plate's speed index (0.001 to 10 000), ``factor`` that of bellows and filters,
    ``correction_stops`` what the photographer's own book says of this box of plates (-6 to 6).
    Source: the anchor of `light_stops`; time goes with the square of the f-number.
    """
    bare_s = (within("f-number", f_number, 0.5, 1024) / 16) ** 2 / within("index", index, 1e-3, 1e4)
    stops = light + within("correction", correction_stops, -6, 6)
    return float(bare_s * within("factor", factor, 1, 1e6) * 2**stops)


def doubt_stops(scene: Scene) -> float:
    """Return how far off the exposure may be [stops], two times in three; 2 at least below 5 degrees.

    Source: own estimate: 0.4 for subject and model, 0.08 for each thickness of air (clean air and haze look
    alike), and the sky's own, added as squares.
    """
    air = 0.08 * air_mass(scene.altitude_deg)
    doubt = math.hypot(0.4, air, SKIES[scene.sky].doubt_stops)
    return max(doubt, 2.0) if scene.altitude_deg < TRUSTED_DEG else doubt


def remarks(scene: Scene) -> tuple[str, ...]:
    """Return what the photographer should be told about this reckoning. Source: own."""
    said = []
    if scene.altitude_deg < TRUSTED_DEG:
        said.append(f"The sun is below {TRUSTED_DEG:g} degrees: this is not to be trusted.")
    if SKIES[scene.sky].overcast and scene.lighting in {"side", "back"}:
        said.append(f"Under this sky {scene.lighting} light makes no difference.")
    return tuple(said)


def filter_remarks(emulsion: Emulsion, factor: float) -> tuple[str, ...]:
    """Return what to say of a filter's ``factor`` on a plate; 1 is no filter.

    A plate that sees only blue and ultraviolet loses nearly all of its light to a yellow filter, far more
    than the factor that is engraved for another emulsion. Source: common practice, no source.
    """
    if factor <= 1:
        return ()
    if emulsion == "blue":
        taken = "yellow, green or red takes nearly all the light of a blue plate: test first"
        return (f"FILTER: a factor of {factor:g} found on another plate is wrong here; {taken}.",)
    return (f"FILTER: the factor of {factor:g} must be one found on this kind of plate, in this light.",)


@dataclass(frozen=True, slots=True)
class Hour:
    """An hour of a day, as its dial shows it, and the sun's altitude then [deg]."""

    shows: time
    altitude_deg: float


def hours_of_day(day: date, dial: Dial, place: Place) -> tuple[Hour, ...]:
    """Return the 24 hours of a day with the sun's altitude [deg]. Source: as `sun_altitude_deg`."""
    return tuple(_hour(datetime.combine(day, time(hour)), dial, place) for hour in range(24))


def _hour(shows: datetime, dial: Dial, place: Place) -> Hour:
    altitude_deg = sun_altitude_deg(dial.utc(shows), place.latitude_deg, place.longitude_deg)
    return Hour(shows.time(), altitude_deg)
