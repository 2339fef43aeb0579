"""``embertray reckon strip``: a test strip in stops, exposure by exposure, and times read off it."""

from __future__ import annotations

import argparse

from firmware_py.craft.lamp import strip_on_s
from firmware_py.craft.refusal import Refused
from firmware_py.craft.strips import METHODS, Strip, say_stops, strip_about, strip_from, time_at_s
from firmware_py.craft.units import read_number, read_time_s, say_time
from tui.commands.reckonings.topic import Answer, Json, Topic

HOW = {
    "covering": "expose the whole strip, then cover one patch more before each exposure",
    "uncovering": "expose the first patch alone, then uncover one patch more before each exposure",
}


def _declare(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--first", metavar="TIME", help="time of the least exposed patch")
    parser.add_argument("--middle", metavar="TIME", help="instead: the time that shall lie in the middle")
    parser.add_argument("--step", metavar="STOPS", default="1/3", help="from patch to patch (default 1/3)")
    parser.add_argument("--patches", metavar="N", default="7", help="how many (default 7)")
    parser.add_argument("--method", choices=METHODS, default="covering", help="default covering")
    parser.add_argument("--lag", metavar="TIME", help="the lamp's lag, added to each exposure")
    parser.add_argument("--mains", metavar="HZ", help="50 or 60: round to half-cycles of the mains")
    parser.add_argument("--read", metavar="PATCH", help="the time of a patch; 3.5 lies between 3 and 4")


def _reckon(args: argparse.Namespace) -> Answer:
    strip = _planned(args)
    lamp_on_s = _lamp_on_s(args, strip)
    values: dict[str, Json] = {
        "method": strip.method,
        "step_stops": _step_stops(args),
        "patches": len(strip.times_s),
        "times_s": [round(time_s, 6) for time_s in strip.times_s],
        "increments_s": [round(time_s, 6) for time_s in strip.increments_s],
    }
    apart = say_stops(_step_stops(args))
    shortest_s, longest_s = min(strip.times_s), max(strip.times_s)
    lines = [
        f"{len(strip.times_s)} patches, {apart} apart, from {say_time(shortest_s)} to {say_time(longest_s)}",
        f"  {HOW[strip.method]}",
        *_table(strip, lamp_on_s),
    ]
    if lamp_on_s is not None:
        values["lamp_on_s"] = [round(time_s, 6) for time_s in lamp_on_s]
    if args.read is not None:
        place = read_number(args.read, where="--read")
        read_s = time_at_s(strip.times_s, place)
        values |= {"read_patch": place, "read_s": round(read_s, 6)}
        lines.append(f"  patch {place:g} got {read_s:.2f} s")
    return Answer(values, tuple(lines))


def _step_stops(args: argparse.Namespace) -> float:
    return read_number(args.step, where="--step")


def _planned(args: argparse.Namespace) -> Strip:
    if (args.first is None) == (args.middle is None):
        raise Refused("a strip needs one time", where="reckon strip", allowed="--first TIME or --middle TIME")
    patches = read_number(args.patches, where="--patches")
    if patches != int(patches):
        raise Refused(f"{patches:g} patches", where="--patches", allowed="a whole number")
    plan, name = (strip_from, "first") if args.middle is None else (strip_about, "middle")
    time_s = read_time_s(getattr(args, name), where=f"--{name}")
    return plan(time_s, _step_stops(args), int(patches), args.method)


def _lamp_on_s(args: argparse.Namespace, strip: Strip) -> tuple[float, ...] | None:
    if args.lag is None and args.mains is None:
        return None
    lag_s = read_time_s(args.lag, where="--lag") if args.lag is not None else 0.0
    mains_Hz = read_number(args.mains, where="--mains") if args.mains is not None else None
    return strip_on_s(strip, lag_s, mains_Hz)


def _table(strip: Strip, lamp_on_s: tuple[float, ...] | None) -> list[str]:
    """Return one line for each exposure; exposure n and patch n share it."""
    last = len(strip.times_s)
    rows = [("no.", "open", "expose", "patch gets") + (("lamp on",) if lamp_on_s else ())]
    for number, (increment_s, time_s) in enumerate(
        zip(strip.increments_s, strip.times_s, strict=True), start=1
    ):
        opened = (number, last) if strip.method == "covering" else (1, number)
        which = f"{opened[0]} to {opened[1]}" if opened[0] != opened[1] else f"{opened[0]}"
        row = (f"{number}", which, f"{increment_s:.2f} s", f"{time_s:.2f} s")
        rows.append(row + ((f"{lamp_on_s[number - 1]:.3f} s",) if lamp_on_s else ()))
    widths = [max(len(cell) for cell in column) for column in zip(*rows, strict=True)]
    return [
        "  " + "  ".join(cell.rjust(width) for cell, width in zip(row, widths, strict=True)) for row in rows
    ]


TOPIC = Topic(_declare, _reckon)
