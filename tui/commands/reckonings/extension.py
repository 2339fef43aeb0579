"""``embertray reckon extension``: what long bellows, filters and long exposures add to the time."""

from __future__ import annotations

import argparse

from firmware_py.craft.camera import (
    SCHWARZSCHILD,
    extension_factor,
    filter_factor,
    magnification_of_bellows,
    magnification_of_distance,
    needed_time_s,
    stops_of_factor,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_time
from firmware_py.craft.strips import say_stops
from firmware_py.craft.units import read_length_mm, read_number, read_time_s
from tui.commands.reckonings.own_unit import bare_mm
from tui.commands.reckonings.topic import Answer, Json, Topic


def declare_extension(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments that say how far the bellows are drawn and what stands before the lens."""
    drawn = parser.add_mutually_exclusive_group()
    drawn.add_argument("--magnification", metavar="M", help="size of image over size of object, as 1/4")
    drawn.add_argument("--bellows", metavar="LENGTH", help="draw from lens board to plate; needs --focal")
    drawn.add_argument("--distance", metavar="LENGTH", help="lens to object; needs --focal")
    parser.add_argument("--focal", metavar="LENGTH", help="focal length of the lens")
    parser.add_argument("--filter", metavar="FACTOR", action="append", default=[], help="may be repeated")


def read_magnification(args: argparse.Namespace) -> float:
    """Return the magnification that was asked for, 0 if none was. Raises `Refused`."""
    if args.magnification is not None:
        return read_number(args.magnification, where="--magnification", low=0, high=100)
    if args.bellows is None and args.distance is None:
        return 0.0
    if args.focal is None:
        raise Refused("the focal length is missing", where="--focal", allowed="--focal LENGTH")
    focal_mm = bare_mm(args.focal, where="--focal")
    if args.bellows is not None:
        return magnification_of_bellows(bare_mm(args.bellows, where="--bellows"), focal_mm)
    return magnification_of_distance(read_length_mm(args.distance, where="--distance"), focal_mm)


def read_filters(args: argparse.Namespace) -> float:
    """Return the factor of all filters that were asked for, 1 if none was. Raises `Refused`."""
    return filter_factor(read_number(text, where="--filter") for text in args.filter)


def _declare(parser: argparse.ArgumentParser) -> None:
    declare_extension(parser)
    parser.add_argument("--time", metavar="TIME", help="the exposure without bellows and filter")
    parser.add_argument(
        "--exponent",
        metavar="P",
        default=f"{SCHWARZSCHILD}",
        help="Schwarzschild's, of your plate (default 0.86)",
    )


def _reckon(args: argparse.Namespace) -> Answer:
    magnification, filters = read_magnification(args), read_filters(args)
    factor = extension_factor(magnification)
    values: dict[str, Json] = {
        "magnification": magnification,
        "factor": factor,
        "stops": stops_of_factor(factor),
        "filter_factor": filters,
        "whole_factor": factor * filters,
    }
    more = say_stops(stops_of_factor(factor))
    lines = [f"{factor:.5g} times the exposure, {more} more, at magnification {magnification:.3g}"]
    if filters > 1:
        lines.append(f"  with the filters {factor * filters:.5g} times")
    if args.time is not None:
        timed, said = _timed(args, factor * filters)
        values |= timed
        lines += said
    return Answer(values, tuple(lines))


def _timed(args: argparse.Namespace, factor: float) -> tuple[dict[str, Json], list[str]]:
    bare_s = read_time_s(args.time, where="--time")
    exponent = read_number(args.exponent, where="--exponent", low=0.5, high=1)
    time_s = bare_s * factor
    needed_s = needed_time_s(time_s, exponent=exponent)
    values: dict[str, Json] = {"time_s": time_s, "exponent": exponent, "needed_s": needed_s}
    lines = [f"  {say_time(bare_s)} becomes {say_time(time_s)}"]
    if needed_s > time_s:
        lines.append(f"  a plate of Schwarzschild exponent {exponent:g} needs {say_time(needed_s)}")
    return values, lines


TOPIC = Topic(_declare, _reckon)
