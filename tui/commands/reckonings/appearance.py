"""``embertray reckon appearance``: development by the first appearance of the image, times a factor."""

from __future__ import annotations

import argparse

from firmware_py.craft.appearance import (
    DILUTION_MATTERS,
    factor_of_mixture,
    factor_used,
    factorial_time,
    misread_appearance,
    printed_factors,
    time_after_appearance,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.temperature import CoefficientRate, read_coefficient
from firmware_py.craft.units import read_number, read_time_s, say_temperature, say_time
from tui.commands.reckonings.own_unit import bare_degC
from tui.commands.reckonings.topic import Answer, Json, Part, Topic, joined


def _declare(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--appeared", metavar="TIME", help="pouring on to the first sign of the image")
    parser.add_argument("--factor", metavar="N", help="of the developer and the contrast wanted")
    parser.add_argument(
        "--part", metavar="FACTOR:PARTS", action="append", help="an agent of a mixture; repeatable"
    )
    parser.add_argument("--agent", metavar="NAME", help="the factors in print for an agent")
    parser.add_argument("--time", metavar="TIME", help="the whole time a plate took, to find its factor")
    parser.add_argument("--misread", metavar="TIME", help="seen so much too late (too early with --early)")
    parser.add_argument("--early", action="store_true", help="the misreading was too early")
    other = parser.add_argument_group("appeared at one temperature, finished at another")
    other.add_argument("--at", metavar="TEMPERATURE", help="the bath when the image appeared")
    other.add_argument("--finish", metavar="TEMPERATURE", help="the bath from then on")
    other.add_argument("--coefficient", metavar="HOW", help='as in reckon temperature: "2.36/10K"')


def _reckon(args: argparse.Namespace) -> Answer:
    if args.agent is not None:
        return _printed(args)
    factor, values, lines = _factor(args)
    if args.appeared is None:
        if not args.part:
            raise Refused("when the image appeared is missing", where="--appeared", allowed="such as 45s")
        return Answer(values, tuple(lines))
    appeared_s = read_time_s(args.appeared, where="--appeared")
    parts = [(values, lines), _whole(appeared_s, factor)]
    if args.misread:
        parts.append(_misread(args, appeared_s, factor))
    if args.at or args.finish or args.coefficient:
        parts.append(_finished_elsewhere(args, appeared_s, factor))
    return joined(parts)


def _factor(args: argparse.Namespace) -> tuple[float, dict[str, Json], list[str]]:
    """Return the factor given, mixed, or found from a plate, with what is to be said of it."""
    if sum(given is not None for given in (args.factor, args.part, args.time)) != 1:
        raise Refused(
            "needs one way to know the factor",
            where="reckon appearance",
            allowed="--factor, or --part twice or more, or --time of a plate that came out right",
        )
    if args.factor is not None:
        factor = read_number(args.factor, where="--factor")
        return factor, {"factor": factor}, []
    if args.part is not None:
        factor = factor_of_mixture([_part(text) for text in args.part])
        return factor, {"factor": factor}, [f"factor {factor:.3g} for the mixture"]
    if args.appeared is None:
        raise Refused("when the image appeared is missing", where="--appeared", allowed="such as 45s")
    time_s = read_time_s(args.time, where="--time")
    factor = factor_used(read_time_s(args.appeared, where="--appeared"), time_s)
    return factor, {"factor": factor}, [f"factor {factor:.3g} was used"]


def _part(text: str) -> tuple[float, float]:
    factor, colon, share = text.partition(":")
    if not colon:
        raise Refused("no factor and parts", where="--part", allowed='"6:1", the factor and how many parts')
    return read_number(factor, where="--part"), read_number(share, where="--part")


def _whole(appeared_s: float, factor: float) -> Part:
    time_s = factorial_time(appeared_s, factor)
    line = f"{say_time(time_s)} in all: {say_time(appeared_s)} to appear, times {factor:.4g}"
    return {"time_s": time_s, "appeared_s": appeared_s}, [line]


def _misread(args: argparse.Namespace, appeared_s: float, factor: float) -> Part:
    misread_s = read_time_s(args.misread, where="--misread") * (-1 if args.early else 1)
    error = misread_appearance(appeared_s, factor, misread_s)
    kind = "too long" if misread_s > 0 else "too short"
    line = f"  {say_time(abs(error.time_error_s))} {kind} ({100 * abs(error.share):.0f} %) if so misread"
    return {"time_error_s": error.time_error_s, "time_error_percent": 100 * error.share}, [line]


def _finished_elsewhere(args: argparse.Namespace, appeared_s: float, factor: float) -> Part:
    for name in ("at", "finish", "coefficient"):
        if not getattr(args, name):
            raise Refused(
                "is missing", where=f"--{name}", allowed="--at, --finish and --coefficient go together"
            )
    appeared_degC = bare_degC(args.at, where="--at")
    finished_degC = bare_degC(args.finish, where="--finish")
    rate = CoefficientRate(read_coefficient(args.coefficient, where="--coefficient"), appeared_degC)
    left_s = time_after_appearance(rate, appeared_s, factor, appeared_degC, finished_degC)
    whole_s = appeared_s + left_s
    there = say_temperature(finished_degC)
    lines = [
        f"  {say_time(whole_s)} in all if finished at {there}: {say_time(left_s)} after the image appeared"
    ]
    return {"finished_time_s": whole_s, "after_appearance_s": left_s, "finish_degC": finished_degC}, lines


def _printed(args: argparse.Namespace) -> Answer:
    found = printed_factors(args.agent)
    rows: list[Json] = [
        {"factor": printed.factor, "contrast": printed.contrast, "source": printed.source}
        for printed in found
    ]
    lines = [f"{printed.factor:>5g}  {printed.contrast:<15} {printed.source}" for printed in found]
    if args.agent in DILUTION_MATTERS:
        lines.append("  the factor changes when this developer is diluted")
    lines.append("  a factor belongs to a formula and a contrast: find your own with --appeared and --time")
    return Answer({"agent": args.agent, "factors": rows}, tuple(lines))


TOPIC = Topic(_declare, _reckon)
