"""``embertray reckon lamp``: the lamp's lag, on-times with it, distance, mains half-cycles, voltage."""

from __future__ import annotations

import argparse
import math

from firmware_py.craft.lamp import (
    Lag,
    dose_s,
    effective_s,
    lag_found,
    light_at_voltage,
    on_s,
    rest_on_s,
    time_at_distance_s,
    to_half_cycles,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.units import read_number, read_time_s, say_time
from tui.commands.reckonings.own_unit import bare_mm
from tui.commands.reckonings.topic import Answer, Json, Part, Topic, joined


def _declare(parser: argparse.ArgumentParser) -> None:
    test = parser.add_argument_group("lag test: two patches of equal density")
    test.add_argument("--long", metavar="TIME", help="the patch made by one exposure")
    test.add_argument("--short", metavar="TIME", help="each exposure of the other patch")
    test.add_argument("--starts", metavar="N", help="how many of them")
    test.add_argument("--read-to", metavar="STOPS", default="0.05", help="how nearly matched (default 0.05)")
    on_time = parser.add_argument_group("on-time")
    on_time.add_argument(
        "--lag", metavar="TIME", help="the lag, if already known; write --lag=-0.01s below 0"
    )
    on_time.add_argument("--effective", metavar="TIME", help="the time wanted of the full light")
    on_time.add_argument(
        "--given",
        metavar="TIME",
        action="append",
        default=[],
        help="lamp on so far, for the rest; repeatable",
    )
    on_time.add_argument("--mains", metavar="HZ", help="50 or 60: round to half-cycles of the mains")
    other = parser.add_argument_group("distance and voltage")
    other.add_argument("--time", metavar="TIME", help="the time at the old distance")
    other.add_argument("--from-distance", metavar="LENGTH", help="lamp to paper, before")
    other.add_argument("--to-distance", metavar="LENGTH", help="lamp to paper, now")
    other.add_argument("--voltage", metavar="RATIO", help="mains voltage now to before, such as 0.95")


def _reckon(args: argparse.Namespace) -> Answer:
    found = _lag_test(args)
    parts = [_lag_said(found)] if found else []
    lag_s = found.lag_s if found else _lag_given_s(args)
    if args.effective is not None:
        parts.append(_on_time(args, lag_s, found.tried_from_s if found else 0.0))
    if args.from_distance or args.to_distance or args.time:
        parts.append(_distance(args))
    if args.voltage is not None:
        parts.append(_voltage(args))
    if not parts:
        raise Refused("not enough to reckon with", where="reckon lamp", allowed="see reckon lamp --help")
    return joined(parts)


def _lag_test(args: argparse.Namespace) -> Lag | None:
    said = [args.long, args.short, args.starts]
    if not any(said):
        return None
    if not all(said) or args.lag is not None:
        raise Refused(
            "half a lag test", where="reckon lamp", allowed="--long, --short and --starts, no --lag"
        )
    starts = read_number(args.starts, where="--starts")
    if starts != int(starts):
        raise Refused(f"{starts:g} starts", where="--starts", allowed="a whole number")
    long_s, short_s = read_time_s(args.long, where="--long"), read_time_s(args.short, where="--short")
    return lag_found(long_s, short_s, int(starts), read_number(args.read_to, where="--read-to"))


def _lag_given_s(args: argparse.Namespace) -> float:
    text = (args.lag or "0 s").strip()
    lag_s = read_time_s(text.removeprefix("-"), where="--lag")
    return -lag_s if text.startswith("-") else lag_s


def _lag_said(found: Lag) -> Part:
    values: dict[str, Json] = {
        "lag_s": round(found.lag_s, 6),
        "lag_uncertain_s": round(found.uncertain_s, 6),
        "told_from_none": found.told_from_none,
    }
    lines = [f"each start loses {found.lag_s:.3f} s, give or take {found.uncertain_s:.3f} s"]
    if not found.told_from_none:
        lines.append("  too coarse to tell from no lag at all: take shorter exposures and more of them")
    return values, lines


def _on_time(args: argparse.Namespace, lag_s: float, tried_from_s: float) -> Part:
    wanted_s = read_time_s(args.effective, where="--effective")
    given_s = [read_time_s(text, where="--given") for text in args.given]
    time_s = rest_on_s(wanted_s, given_s, lag_s) if given_s else on_s(wanted_s, lag_s, tried_from_s)
    values: dict[str, Json] = {"on_s": round(time_s, 6), "effective_s": round(wanted_s, 6)}
    lines = [f"lamp on for {time_s:.3f} s to give {say_time(wanted_s)} of its full light"]
    if given_s:
        so_far_s = dose_s(given_s, lag_s)
        values["given_s"] = round(so_far_s, 6)
        lines = [f"{so_far_s:.3f} s given of {say_time(wanted_s)}; lamp on for {time_s:.3f} s more"]
    if args.mains is not None and time_s > 0:
        more_values, more_lines = _rounded(args, time_s, lag_s)
        return values | more_values, lines + more_lines
    return values, lines


def _rounded(args: argparse.Namespace, time_s: float, lag_s: float) -> Part:
    rounded = to_half_cycles(time_s, read_number(args.mains, where="--mains"))
    lit_s = effective_s(rounded.on_s, lag_s)
    if lit_s == 0:
        raise Refused(
            f"{time_s:.3f} s in half-cycles would give no light", where="--effective", allowed="a longer time"
        )
    error_stops = math.log2(lit_s / effective_s(time_s, lag_s))
    values: dict[str, Json] = {
        "half_cycles": rounded.half_cycles,
        "rounded_on_s": round(rounded.on_s, 6),
        "rounding_error_s": round(rounded.error_s, 6),
        "rounding_error_stops": round(error_stops, 6),
    }
    line = (
        f"  in half-cycles: {rounded.half_cycles}, {rounded.on_s:.4f} s, "
        f"out by {1000 * rounded.error_s:+.1f} ms or {error_stops:+.4f} stop"
    )
    return values, [line]


def _distance(args: argparse.Namespace) -> Part:
    if not (args.time and args.from_distance and args.to_distance):
        raise Refused(
            "half a change of distance", where="reckon lamp", allowed="--time, --from-distance, --to-distance"
        )
    before_s = read_time_s(args.time, where="--time")
    from_mm = bare_mm(args.from_distance, where="--from-distance")
    to_mm = bare_mm(args.to_distance, where="--to-distance")
    time_s = time_at_distance_s(before_s, from_mm, to_mm)
    lines = [
        f"{say_time(time_s)} at {to_mm / from_mm:.4g} times the distance does what {say_time(before_s)} did",
        "  for a small lamp without reflector or lens; the lag does not change",
    ]
    return {"time_s": round(time_s, 6)}, lines


def _voltage(args: argparse.Namespace) -> Part:
    ratio = read_number(args.voltage, where="--voltage")
    light = light_at_voltage(ratio)
    values: dict[str, Json] = {"light_ratio": round(light, 6), "time_ratio": round(1 / light, 6)}
    return values, [
        f"a filament lamp at {ratio:g} of its voltage gives {light:.2f} of its light",
        f"  so expose {1 / light:.2f} times as long",
        "  as the eye sees it; the blue that most papers see changes more",
    ]


TOPIC = Topic(_declare, _reckon)
