"""The day's table of exposures, hour by hour and stop by stop, to print and take along."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time

from firmware_py.craft.actinic import LOWEST_DEG, TRUSTED_DEG
from firmware_py.craft.camera import RECIPROCITY_BREAK_S
from firmware_py.craft.daylight import Hour, doubt_stops, filter_remarks, hours_of_day, remarks
from firmware_py.craft.moment import Dial, read_day
from firmware_py.craft.refusal import Refused
from firmware_py.craft.shutter import write_exposure
from firmware_py.craft.stops import f_numbers, name_of_stop, read_stop
from firmware_py.craft.sun import sun_altitude_deg
from tui.commands.reckonings.outing import Outing
from tui.commands.reckonings.topic import Answer, Json

WIDTH, FIRST_COLUMNS, COLUMN = 80, 13, 8
MOST_STOPS = (WIDTH - FIRST_COLUMNS) // COLUMN


@dataclass(frozen=True, slots=True)
class Day:
    """The table of a day: its figures, the lines at its head and foot, and its cells."""

    values: Mapping[str, Json]
    head: tuple[str, ...]
    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    foot: tuple[str, ...]

    @property
    def answer(self) -> Answer:
        """Get the day as figures and lines."""
        hour, sun, *stops = self.columns
        title = f"{hour}     {sun} " + "".join(f"{stop:>{COLUMN}}" for stop in stops)
        rows = (
            f"{hour}  {sun:>6}" + "".join(f"{time:>{COLUMN}}" for time in times)
            for hour, sun, *times in self.rows
        )
        return Answer(self.values, (*self.head, "", title, *rows, "", *self.foot))


def declare_day(parser: argparse.ArgumentParser) -> None:
    """Declare the arguments of the day's table."""
    parser.add_argument("--day", action="store_true", help="a table of the whole day")
    parser.add_argument("--offset", metavar="OFFSET", default="", help='of a bare date, as "+01:00"')
    parser.add_argument("--widest", metavar="STOP", default="f/5.6", help="of the table (default f/5.6)")
    parser.add_argument("--smallest", metavar="STOP", default="f/64", help="of the table (default f/64)")
    parser.add_argument("--half-stops", action="store_true", help="half stops between the whole ones")


def day_table(outing: Outing, args: argparse.Namespace) -> Day:
    """Return the table of a day. Raises `Refused` for a day without sun and a table too wide to print."""
    longitude_deg = outing.place.longitude_deg
    day, dial = read_day(
        args.on, where="--on", solar=args.solar, longitude_deg=longitude_deg, offset=args.offset
    )
    stops = _stops(args)
    hours = hours_of_day(day, dial, outing.place)
    sunny = [hour for hour in hours if hour.altitude_deg >= LOWEST_DEG]
    if not sunny:
        raise Refused(_no_sun(day, hours), where="daylight", allowed="another date or place")
    values: dict[str, Json] = {"date": f"{day}", "hours_by": dial.name, **outing.values}
    values |= {"f_numbers": list(stops), "stops": [name_of_stop(one) for one in stops]}
    values["hours"] = [_hour_values(outing, hour, stops) for hour in sunny]
    head = (
        f"{day} at {outing.where}, hours in {dial.name}",
        outing.words,
        f"{_noon(outing, dial, day)}{_polar_day(hours)}",
    )
    columns = ("hour", "sun", *(name_of_stop(stop) for stop in stops))
    rows = tuple(_row(outing, hour, stops) for hour in sunny)
    return Day(values, head, columns, rows, _foot(outing, sunny, stops))


def _stops(args: argparse.Namespace) -> tuple[float, ...]:
    if args.stop is not None:
        return (read_stop(args.stop, where="--stop"),)
    widest, smallest = read_stop(args.widest, where="--widest"), read_stop(args.smallest, where="--smallest")
    stops = f_numbers(widest, smallest, to_the_stop=2 if args.half_stops else 1)
    if len(stops) > MOST_STOPS:
        raise Refused(
            f"{len(stops)} stops do not fit a line of {WIDTH}",
            where="--widest and --smallest",
            allowed=f"{MOST_STOPS} stops",
        )
    return stops


def _no_sun(day: date, hours: tuple[Hour, ...]) -> str:
    if max(hour.altitude_deg for hour in hours) < 0:
        return f"the sun is below the horizon at every hour of {day} there (polar night)"
    return f"the sun does not rise to {LOWEST_DEG:g} degree at any hour of {day} there"


def _noon(outing: Outing, dial: Dial, day: date) -> str:
    """Say how high the sun stands at its own noon, and what the hours show then."""
    place = outing.place
    sundial = Dial(solar="apparent", longitude_deg=place.longitude_deg)
    noon = sundial.utc(datetime.combine(day, time(12)))
    altitude_deg = sun_altitude_deg(noon, place.latitude_deg, place.longitude_deg)
    return f"sun highest at {dial.shows(noon):%H:%M}, {altitude_deg:.0f}°"


def _polar_day(hours: tuple[Hour, ...]) -> str:
    sets = min(hour.altitude_deg for hour in hours) <= 0
    return "" if sets else "; it does not set that day (polar day)"


def _row(outing: Outing, hour: Hour, stops: tuple[float, ...]) -> tuple[str, ...]:
    scene = outing.scene(hour.altitude_deg)
    times = (write_exposure(outing.time_s(scene, stop)) for stop in stops)
    doubtful = "*" if hour.altitude_deg < TRUSTED_DEG else " "
    return (f"{hour.shows:%H:%M}", f"{hour.altitude_deg:.0f}°{doubtful}", *times)


def _foot(outing: Outing, sunny: list[Hour], stops: tuple[float, ...]) -> tuple[str, ...]:
    trusted = [hour for hour in sunny if hour.altitude_deg >= TRUSTED_DEG]
    doubts = [doubt_stops(outing.scene(hour.altitude_deg)) for hour in trusted]
    lines = [f"good to {min(doubts):.1f} stop, to {max(doubts):.1f} at the lowest sun"] if doubts else []
    lines += [*remarks(outing.scene(90)), *filter_remarks(outing.emulsion, outing.filters)]
    if len(trusted) < len(sunny):
        lines.append(f"* sun below {TRUSTED_DEG:g} degrees: not to be trusted")
    longest_s = max(outing.time_s(outing.scene(hour.altitude_deg), stops[-1]) for hour in sunny)
    if outing.exponent is None and longest_s > RECIPROCITY_BREAK_S:
        lines.append("times over 1 s ignore reciprocity failure: plates need more (--reciprocity)")
    return tuple(lines)


def _hour_values(outing: Outing, hour: Hour, stops: tuple[float, ...]) -> dict[str, Json]:
    scene = outing.scene(hour.altitude_deg)
    return {
        "hour": f"{hour.shows:%H:%M}",
        "sun_altitude_deg": hour.altitude_deg,
        "trusted": hour.altitude_deg >= TRUSTED_DEG,
        "light_stops": outing.light_stops(scene),
        "doubt_stops": doubt_stops(scene),
        "times_s": [outing.time_s(scene, stop) for stop in stops],
    }
