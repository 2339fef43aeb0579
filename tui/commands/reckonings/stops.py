"""``embertray reckon stops``: a stop in every system, and what another stop does to the exposure."""

from __future__ import annotations

import argparse

from firmware_py.craft.dates import Ambiguous
from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.shutter import say_exposure
from firmware_py.craft.stops import (
    f_number_from_stolze,
    f_number_from_uniform,
    name_of_stop,
    read_f_number,
    read_stop,
    stolze_from_f_number,
    stops_between,
    uniform_from_f_number,
)
from firmware_py.craft.strips import say_stops
from firmware_py.craft.units import read_number, read_time_s
from tui.commands.reckonings.topic import Answer, Json, Topic


def _declare(parser: argparse.ArgumentParser) -> None:
    one = parser.add_mutually_exclusive_group(required=True)
    one.add_argument("--stop", metavar="STOP", help='in any system: "f/16", "U.S. 64", "Stolze 2.56"')
    one.add_argument("--f", metavar="N", help="an f-number; whole stops as engraved (11 means 11.31)")
    one.add_argument("--uniform", metavar="N", help="a number of the Uniform System (U.S.)")
    one.add_argument("--stolze", metavar="N", help="a number of Stolze or of the Paris Congress")
    parser.add_argument("--to", metavar="STOP", help="the stop to change to, in any system")
    parser.add_argument("--time", metavar="TIME", help="the exposure at the first stop")


def _reckon(args: argparse.Namespace) -> Answer:
    f_number = _asked(args)
    values: dict[str, Json] = {
        "f_number": f_number,
        "stop": name_of_stop(f_number),
        "uniform": uniform_from_f_number(f_number),
        "stolze": stolze_from_f_number(f_number),
    }
    lines = [
        f"{name_of_stop(f_number)} is U.S. {values['uniform']:.4g} and Stolze {values['stolze']:.4g}",
        f"  exactly f/{f_number:.5g}",
    ]
    if args.to is None and args.time is not None:
        raise Refused("a time, and no stop to change to", where="--time", allowed="--to STOP with it")
    if args.to is not None:
        changed, said = _change(f_number, args)
        values |= changed
        lines += said
    return Answer(values, tuple(lines))


def _asked(args: argparse.Namespace) -> float:
    if args.stop is not None:
        return _stop_of_a_system(args.stop, where="--stop")
    if args.f is not None:
        return read_f_number(args.f, where="--f")
    if args.uniform is not None:
        return f_number_from_uniform(read_number(args.uniform, where="--uniform", low=1e-3, high=65536))
    return f_number_from_stolze(read_number(args.stolze, where="--stolze", low=1e-3, high=10485))


def _change(f_number: float, args: argparse.Namespace) -> tuple[dict[str, Json], list[str]]:
    other = _stop_of_a_system(args.to, where="--to")
    stops = stops_between(f_number, other)
    factor = (other / f_number) ** 2
    values: dict[str, Json] = {"to_f_number": other, "to_stop": name_of_stop(other)}
    values |= {"stops_less_light": stops, "exposure_factor": factor}
    less = "less" if stops >= 0 else "more"
    lines = [
        f"  {name_of_stop(other)} passes {say_stops(abs(stops))} {less}: {factor:.3g} times the exposure"
    ]
    if args.time is not None:
        time_s = read_time_s(args.time, where="--time")
        values["time_s"] = time_s * factor
        lines.append(f"  {say_exposure(time_s)} becomes {say_exposure(time_s * factor)}")
    return values, lines


def _stop_of_a_system(text: str, *, where: str) -> float:
    """Return the f-number of a stop; here, among the systems, a bare number asks. Raises `Refused`."""
    f_number = read_stop(text, where=where)
    if not any(map(str.isalpha, text)) and ":" not in text:
        uniform = name_of_stop(f_number_from_uniform(float(text)))
        both = f"f/{text.strip()}, or U.S. {text.strip()} which is {uniform}"
        raise Ambiguous(f"{shown(text)} can be {both}", where=where, allowed='"f/8" or "U.S. 8"')
    return f_number


TOPIC = Topic(_declare, _reckon)
