"""``embertray reckon tempering``: hot and cold water, ice for a jacket, and how a tray cools."""

from __future__ import annotations

import argparse
from collections.abc import Mapping

from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_temperature, say_time
from firmware_py.craft.tempering import added_ml, blended, ice_g
from firmware_py.craft.tray import READING_TOLERANCE_K, TrayCooling, tray_cooling
from firmware_py.craft.units import read_difference_K, read_time_s
from tui.commands.reckonings.own_unit import bare_degC, bare_ml
from tui.commands.reckonings.topic import Answer, Json, Topic

THERMOMETER = "The vessel takes or gives some heat too: the thermometer has the last word."
_WAYS = (
    "--hot T --cold T --to T --make VOLUME; --bath VOLUME --at T --to T --with T (or --ice T); "
    "--read T@TIME --read T@TIME --room T [--after TIME] [--until T]"
)


def _declare(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--hot", metavar="T", help="the hot water, such as 60degC")
    parser.add_argument("--cold", metavar="T", help="the cold water")
    parser.add_argument("--to", metavar="T", help="the temperature wanted")
    parser.add_argument("--make", metavar="VOLUME", help="how much water is wanted")
    parser.add_argument("--bath", metavar="VOLUME", help="a water jacket to be brought to a temperature")
    parser.add_argument("--at", metavar="T", help="what the jacket has now")
    parser.add_argument("--with", dest="added", metavar="T", help="the water that is added")
    parser.add_argument(
        "--ice", metavar="T", help="the ice that is added: 0degC wet, --ice=-18degC from the freezer"
    )
    parser.add_argument("--read", action="append", metavar="T@TIME", help="a reading of a tray; give two")
    parser.add_argument("--room", metavar="T", help="the room the tray stands in")
    parser.add_argument("--after", metavar="TIME", help="its temperature so long after the second reading")
    parser.add_argument("--until", metavar="T", help="how long until it has this temperature")
    parser.add_argument("--tolerance", metavar="K", help="how far each reading may be off, usually 0.1 K")


def _reckon(args: argparse.Namespace) -> Answer:
    if args.hot and args.cold and args.to and args.make:
        return _blend(args)
    if args.bath and args.at and args.to and bool(args.added) != bool(args.ice):
        return _jacket(args)
    if args.read and args.room:
        return _tray(args)
    raise Refused("not enough to reckon with, or too much", where="reckon tempering", allowed=_WAYS)


def _blend(args: argparse.Namespace) -> Answer:
    wanted, volume_ml = _degC(args, "to"), bare_ml(args.make, where="--make")
    made = blended(volume_ml, wanted, hot_degC=_degC(args, "hot"), cold_degC=_degC(args, "cold"))
    parts = f"1 : {made.cold_to_hot:.3g}" if made.hot_g else "no hot water"
    whole = f"{volume_ml:.0f} ml at {say_temperature(wanted)}"
    lines = (
        f"{made.hot_ml:.0f} ml hot and {made.cold_ml:.0f} ml cold for {whole}",
        f"  hot : cold by mass {parts}",
        f"  {THERMOMETER}",
    )
    values: Mapping[str, Json] = {
        "hot_ml": made.hot_ml,
        "cold_ml": made.cold_ml,
        "hot_g": made.hot_g,
        "cold_g": made.cold_g,
        "cold_to_hot_by_mass": made.cold_to_hot if made.hot_g else None,
        "wanted_degC": wanted,
    }
    return Answer(values, lines)


def _jacket(args: argparse.Namespace) -> Answer:
    volume_ml = bare_ml(args.bath, where="--bath")
    bath, wanted = _degC(args, "at"), _degC(args, "to")
    if args.ice:
        ice = bare_degC(args.ice, where="--ice")
        needed_g = ice_g(volume_ml, bath, wanted, ice)
        what, values = f"{needed_g:.0f} g of ice at {say_temperature(ice)}", {"ice_g": needed_g}
    else:
        added = bare_degC(args.added, where="--with")
        more_ml = added_ml(volume_ml, bath, wanted, added)
        what, values = f"{more_ml:.0f} ml of water at {say_temperature(added)}", {"added_ml": more_ml}
    lines = (
        f"{what} bring {volume_ml:.0f} ml from {say_temperature(bath)} to {say_temperature(wanted)}",
        "  For the jacket: in the bath itself it would thin the bath. Ice for a bath goes into a closed bag.",
        f"  {THERMOMETER}",
    )
    return Answer({**values, "wanted_degC": wanted}, lines)


def _tray(args: argparse.Namespace) -> Answer:
    if len(args.read) != 2:
        raise Refused(f"{len(args.read)} readings", where="--read", allowed="two, such as --read 22degC@0min")
    first, last = (_reading(text) for text in args.read)
    tolerance_K = READING_TOLERANCE_K
    if args.tolerance:
        tolerance_K = read_difference_K(args.tolerance, where="--tolerance")
    cooling = tray_cooling(first, last, _degC(args, "room"), tolerance_K=tolerance_K)
    values: dict[str, Json] = {"per_s": cooling.per_s, "time_constant_s": cooling.time_constant_s}
    lines = [f"goes two thirds of its way to {say_temperature(cooling.room_degC)} in {_minutes(cooling)}"]
    if args.after:
        after_s = read_time_s(args.after, where="--after")
        values |= {"bath_degC": cooling.bath_degC(after_s), "doubt_K": cooling.doubt_K(after_s)}
        at = f"{say_temperature(cooling.bath_degC(after_s))} ± {cooling.doubt_K(after_s):.2g} K"
        lines.append(f"  {say_time(after_s)} after the second reading: {at}")
    if args.until:
        until = _degC(args, "until")
        values["until_s"] = cooling.time_until_s(until)
        lines.append(f"  {say_temperature(until)} after {say_time(cooling.time_until_s(until))}")
    return Answer(values, tuple(lines))


def _minutes(cooling: TrayCooling) -> str:
    return say_time(round(cooling.time_constant_s * 1.0986 / 60) * 60)


def _reading(text: str) -> tuple[float, float]:
    degrees, at, time = text.partition("@")
    if not at:
        raise Refused(f'"{text[:40]}" is not a reading', where="--read", allowed="such as 22degC@5min")
    return read_time_s(time, where="--read"), bare_degC(degrees, where="--read")


def _degC(args: argparse.Namespace, name: str) -> float:
    return bare_degC(getattr(args, name), where=f"--{name}")


TOPIC = Topic(_declare, _reckon)
