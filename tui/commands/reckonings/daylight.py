"""``embertray daylight``: camera exposure for a place, a date and an hour, or a table for the day."""

from __future__ import annotations

import argparse
import sys
from datetime import datetime

from firmware_py.craft.camera import RECIPROCITY_BREAK_S, SCHWARZSCHILD, needed_time_s
from firmware_py.craft.daylight import Scene, doubt_stops, filter_remarks, remarks
from firmware_py.craft.moment import read_moment
from firmware_py.craft.refusal import Refused
from firmware_py.craft.shutter import say_exposure
from firmware_py.craft.stops import name_of_stop, read_stop
from firmware_py.craft.sun import sun_altitude_deg
from tui.commands.reckonings.command import printed
from tui.commands.reckonings.day_table import Day, day_table, declare_day
from tui.commands.reckonings.outing import Outing, declare_outing, read_outing
from tui.commands.reckonings.spoken import spoken_moment
from tui.commands.reckonings.topic import Answer, Json
from tui.commands.sheet_options import declare_sheet, write_sheet


def add_daylight(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``daylight``."""
    parser = commands.add_parser(
        "daylight",
        help="camera exposure for a place, a date and an hour",
        description="Camera exposure by daylight. The index is yours: f/16 at 1/index second, in bright sun "
        "45 degrees high, for a landscape with the sun behind the camera.",
        allow_abbrev=False,
    )
    declare_outing(parser)
    parser.add_argument(
        "--on", metavar="WHEN", required=True, help='"2026-06-21T12:00+01:00", or "tomorrow 4 pm"'
    )
    parser.add_argument(
        "--solar", choices=("apparent", "mean"), help="the hours are local solar time, without an offset"
    )
    parser.add_argument(
        "--stop", metavar="STOP", help='as "f/16" or "U.S. 64"; with --day the only one shown'
    )
    declare_day(parser)
    declare_sheet(parser, "with --day, the table and room to write down each exposure")
    parser.add_argument("--json", action="store_true", help="print one JSON object; keys carry their unit")


def run_daylight(args: argparse.Namespace) -> int:
    """Reckon the exposure or the day's table and print it. Raises `Refused`."""
    outing = read_outing(args)
    by_sun = args.solar is not None
    args.on, told = spoken_moment(args.on, where="--on", by_sun=by_sun, offset=args.offset)
    answer = _day(outing, args) if args.day else exposure(outing, args)
    if told and not args.json:
        answer = Answer(answer.values, (*answer.lines, f"  {told}"))
    sys.stdout.write(printed(answer, as_json=args.json))
    return 0


def _day(outing: Outing, args: argparse.Namespace) -> Answer:
    day = day_table(outing, args)
    return day.answer if args.sheet is None else _written(day, args)


def _written(day: Day, args: argparse.Namespace) -> Answer:
    """Write the sheet of a day, and answer where it is instead of with the table."""
    from firmware_py.report.sheets.day_sheet import day_page

    line = write_sheet(day_page(day.head, day.columns, day.rows, day.foot), args)
    return Answer({**day.values, "sheet": str(args.sheet)}, (line,))


def exposure(outing: Outing, args: argparse.Namespace) -> Answer:
    """Return the exposure at the hour and the stop that are asked for. Raises `Refused`."""
    if args.sheet is not None:
        raise Refused("a sheet of a single exposure", where="--sheet", allowed="with --day")
    if args.stop is None:
        raise Refused("no stop", where="--stop", allowed='a stop, as "f/16", or --day for a table')
    if args.offset:
        raise Refused("an offset by itself", where="--offset", allowed="with --day; otherwise in --on")
    f_number = read_stop(args.stop, where="--stop")
    longitude_deg = outing.place.longitude_deg
    when = read_moment(args.on, where="--on", solar=args.solar, longitude_deg=longitude_deg)
    scene = outing.scene(sun_altitude_deg(when, outing.place.latitude_deg, longitude_deg))
    return _answered(outing, scene, when, f_number)


def _answered(outing: Outing, scene: Scene, when: datetime, f_number: float) -> Answer:
    time_s = outing.time_s(scene, f_number)
    doubt = doubt_stops(scene)
    shortest_s, longest_s = _spread_s(outing, scene, time_s)
    said = (
        *remarks(scene),
        *filter_remarks(outing.emulsion, outing.filters),
        *_reciprocity_remark(outing, time_s),
    )
    values: dict[str, Json] = {
        "time_s": time_s,
        "exposure": say_exposure(time_s),
        "f_number": f_number,
        "stop": name_of_stop(f_number),
        "sun_altitude_deg": scene.altitude_deg,
        "utc": when.strftime("%Y-%m-%dT%H:%M:%SZ"),
        "light_stops": outing.light_stops(scene),
        "doubt_stops": doubt,
        "shortest_s": shortest_s,
        "longest_s": longest_s,
        **outing.values,
        "remarks": list(said),
    }
    return Answer(values, (*_lines(outing, scene, time_s, f_number), *(f"  {line}" for line in said)))


def _lines(outing: Outing, scene: Scene, time_s: float, f_number: float) -> tuple[str, ...]:
    doubt = doubt_stops(scene)
    spread = " to ".join(say_exposure(bound_s) for bound_s in _spread_s(outing, scene, time_s))
    return (
        f"{say_exposure(time_s)} at {name_of_stop(f_number)}, good to {doubt:.1f} stop: {spread}",
        f"  {outing.words}",
        f"  sun {scene.altitude_deg:.1f} degrees high at {outing.where}; {_against_index(outing, scene)}",
    )


def _spread_s(outing: Outing, scene: Scene, time_s: float) -> tuple[float, float]:
    """Return the shortest and the longest exposure [s] that may be right, two times in three.

    Where nobody said how the plate fails in reciprocity, the longest is that of a plate that does.
    """
    doubt = doubt_stops(scene)
    longest_s = time_s * 2**doubt
    if outing.exponent is None and longest_s > RECIPROCITY_BREAK_S:
        longest_s = needed_time_s(longest_s)
    return time_s / 2**doubt, longest_s


def _against_index(outing: Outing, scene: Scene) -> str:
    stops = outing.light_stops(scene)
    return f"{abs(stops):.1f} stops {'more' if stops >= 0 else 'less'} than the index says"


def _reciprocity_remark(outing: Outing, time_s: float) -> tuple[str, ...]:
    if outing.exponent is not None or time_s <= RECIPROCITY_BREAK_S:
        return ()
    needed = say_exposure(needed_time_s(time_s))
    if needed == say_exposure(time_s):
        return ()
    return (f"Over {RECIPROCITY_BREAK_S:g} s: with --reciprocity {SCHWARZSCHILD:g} it would be {needed}.",)
