"""What a photographer says before going out: place, plate, sky, subject, lens; as arguments and as read."""

from __future__ import annotations

import argparse
from dataclasses import dataclass

from firmware_py.craft.actinic import Emulsion, read_emulsion
from firmware_py.craft.camera import extension_factor, needed_time_s
from firmware_py.craft.daylight import ANCHOR_DEG, Scene, camera_time_s, light_stops
from firmware_py.craft.place import Place, read_place
from firmware_py.craft.scene import LIGHTINGS, SKIES, SUBJECTS
from firmware_py.craft.units import read_length_mm, read_number
from tui.commands.reckonings.extension import declare_extension, read_filters, read_magnification
from tui.commands.reckonings.learned import Learned, declare_box, read_learned
from tui.commands.reckonings.topic import Json

PLATES = {"blue": "blue-sensitive plate", "ortho": "orthochromatic plate", "pan": "panchromatic plate"}
LIGHT = {"front": "front light", "side": "side light", "back": "back light", "shade": "open shade"}


@dataclass(frozen=True, slots=True)
class Outing:
    """Everything that stays the same through the day."""

    place: Place
    emulsion: Emulsion
    index: float
    sky: str
    subject: str
    lighting: str
    height_m: float
    factor: float
    filters: float
    correction_stops: float
    found_at_deg: float
    exponent: float | None
    learned: Learned | None = None

    def scene(self, altitude_deg: float) -> Scene:
        """Return the scene with the sun at an altitude [deg]. Raises `Refused` for twilight."""
        return Scene(self.emulsion, altitude_deg, self.sky, self.subject, self.lighting, self.height_m)

    def light_stops(self, scene: Scene) -> float:
        """Return the light of a scene [stops] against what the index was found in."""
        return light_stops(scene, found_at_deg=self.found_at_deg)

    def time_s(self, scene: Scene, f_number: float) -> float:
        """Return the exposure [s] at a stop, with all that lengthens it."""
        time_s = camera_time_s(
            self.light_stops(scene),
            index=self.index,
            f_number=f_number,
            factor=self.factor,
            correction_stops=self.correction_stops,
        )
        return time_s if self.exponent is None else needed_time_s(time_s, exponent=self.exponent)

    @property
    def words(self) -> str:
        """Get plate and view in words."""
        return (
            f"{PLATES[self.emulsion]}, index {self.index:g}; {SKIES[self.sky].words}; "
            f"{SUBJECTS[self.subject].words}; {LIGHT[self.lighting]}"
            + (f"; {self.learned.words}" if self.learned else "")
        )

    @property
    def where(self) -> str:
        """Get the place in words."""
        north = f"{abs(self.place.latitude_deg):g} {'S' if self.place.latitude_deg < 0 else 'N'}"
        east = f"{abs(self.place.longitude_deg):g} {'W' if self.place.longitude_deg < 0 else 'E'}"
        return f"{north} {east}" + (f", {self.height_m:g} m up" if self.height_m else "")

    @property
    def values(self) -> dict[str, Json]:
        """Get everything with its unit in its key."""
        return {
            "latitude_deg": self.place.latitude_deg,
            "longitude_deg": self.place.longitude_deg,
            "height_m": self.height_m,
            "plate": self.emulsion,
            "index": self.index,
            "index_found_at_deg": self.found_at_deg,
            "sky": self.sky,
            "subject": self.subject,
            "lighting": self.lighting,
            "factor": self.factor,
            "filter_factor": self.filters,
            "correction_stops": self.correction_stops,
            "schwarzschild_exponent": self.exponent,
            **(self.learned.values if self.learned else {}),
        }


def declare_outing(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments that an outing is read from."""
    parser.add_argument(
        "--at", metavar="PLACE", required=True, help='"56.05N 2.72W", "56.05,-2.72", ISO 6709'
    )
    parser.add_argument("--plate", metavar="KIND", required=True, help="blue, ortho or pan")
    parser.add_argument(
        "--index", required=True, metavar="N", help="of your plate: f/16 at 1/N s in bright sun"
    )
    parser.add_argument("--sky", choices=SKIES, default="clear", help="default clear")
    parser.add_argument("--subject", choices=SUBJECTS, default="landscape", help="default landscape")
    parser.add_argument("--lighting", choices=LIGHTINGS, default="front", help="default front")
    parser.add_argument("--height", metavar="LENGTH", help='above the sea, as "800 m"')
    declare_extension(parser)
    parser.add_argument("--correction", metavar="STOPS", help="more for this box, as you say")
    declare_box(parser)
    parser.add_argument("--index-sun", metavar="DEG", help="altitude of the sun that gave your index (45)")
    parser.add_argument("--reciprocity", metavar="P", help="Schwarzschild exponent of your plate, as 0.86")


def read_outing(args: argparse.Namespace) -> Outing:
    """Read everything that stays the same through the day. Raises `Refused`."""
    place = read_place(args.at, where="--at")
    learned = read_learned(args)
    return Outing(
        place=place,
        emulsion=read_emulsion(args.plate, where="--plate"),
        index=read_number(args.index, where="--index", low=1e-3, high=1e4),
        sky=args.sky,
        subject=args.subject,
        lighting=args.lighting,
        height_m=_height_m(args.height, place),
        factor=extension_factor(read_magnification(args)) * read_filters(args),
        filters=read_filters(args),
        correction_stops=learned.stops if learned else _correction(args.correction),
        found_at_deg=_degrees(args.index_sun),
        exponent=_exponent(args.reciprocity),
        learned=learned,
    )


def _correction(text: str | None) -> float:
    return 0.0 if text is None else read_number(text, where="--correction", low=-6, high=6)


def _height_m(text: str | None, place: Place) -> float:
    if text is not None:
        return read_length_mm(text, where="--height") / 1000
    return place.height_m or 0.0


def _degrees(text: str | None) -> float:
    if text is None:
        return ANCHOR_DEG
    bare = text.strip().removesuffix("deg").removesuffix("°")
    return read_number(bare, where="--index-sun", low=15, high=75)


def _exponent(text: str | None) -> float | None:
    return None if text is None else read_number(text, where="--reciprocity", low=0.5, high=1)
