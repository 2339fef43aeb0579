"""``embertray reckon speed``: a plate's speed in the old and the new scales."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from types import MappingProxyType

from firmware_py.craft.speed import SCALES, convert_speed, ratio_of_speeds, stops_between_speeds
from firmware_py.craft.strips import say_stops
from firmware_py.craft.units import read_number
from tui.commands.reckonings.topic import Answer, Json, Topic

# scale -> the key of its number in JSON
KEYS: Mapping[str, str] = MappingProxyType(
    {
        "inertia": "inertia_cms",
        "hd": "hd",
        "watkins": "watkins",
        "wynne": "wynne_f",
        "iso": "iso",
        "iso-degrees": "iso_degrees",
        "scheiner": "scheiner_degrees",
    }
)


def _declare(parser: argparse.ArgumentParser) -> None:
    scales = parser.add_mutually_exclusive_group(required=True)
    for scale, meant in SCALES.items():
        scales.add_argument(f"--{scale}", metavar="N", help=f"a speed in the scale {meant.name}")
    parser.add_argument("--to", metavar="SCALE", help=f"another scale: {', '.join(SCALES)}")
    parser.add_argument("--than", metavar="N", help="the speed of another plate in the same scale")


def _reckon(args: argparse.Namespace) -> Answer:
    scale, number = _asked(args)
    values: dict[str, Json] = {KEYS[scale]: number}
    lines = [f"{SCALES[scale].name} {number:.4g}"]
    for other in [args.to] if args.to is not None else _relations(scale):
        found = convert_speed(number, scale, other)
        values[KEYS[other]] = found
        lines.append(f"  is {SCALES[other].name} {found:.4g}")
    if args.than is not None:
        compared, said = _compared(scale, number, args.than)
        values |= compared
        lines.append(said)
    return Answer(values, tuple(lines))


def _asked(args: argparse.Namespace) -> tuple[str, float]:
    given = {scale: getattr(args, scale.replace("-", "_")) for scale in SCALES}
    scale, text = next((scale, text) for scale, text in given.items() if text is not None)
    return scale, read_number(text, where=f"--{scale}")


def _relations(scale: str) -> list[str]:
    family = SCALES[scale].family
    return [name for name, other in SCALES.items() if other.family == family and name != scale]


def _compared(scale: str, number: float, than: str) -> tuple[dict[str, Json], str]:
    other = read_number(than, where="--than")
    stops = stops_between_speeds(other, number, scale)
    ratio = ratio_of_speeds(other, number, scale)
    values: dict[str, Json] = {"than": other, "times_faster": ratio, "stops_faster": stops}
    faster = "faster" if stops >= 0 else "slower"
    return values, f"  {say_stops(abs(stops))} {faster} than {SCALES[scale].name} {other:.4g}"


TOPIC = Topic(_declare, _reckon)
