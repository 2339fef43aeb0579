"""``embertray reckon temperature``: times at other temperatures, tables, and one's own coefficient."""

from __future__ import annotations

import argparse
import math
from collections.abc import Sequence

from firmware_py.craft.refusal import Refused
from firmware_py.craft.temperature import (
    PRINTED_RATE_DOUBT,
    CoefficientRate,
    MeasuredCoefficient,
    Rate,
    TableRate,
    doubt,
    k25_k15_from_ln_per_K,
    ln_rate_doubt,
    log10_per_K_from_ln,
    measured_coefficient,
    outside_K,
    ratio_from_ln_per_K,
    read_coefficient,
    time_at,
    time_doubt,
)
from firmware_py.craft.units import (
    read_difference_K,
    read_time_s,
    say_temperature,
    say_time,
)
from tui.commands.reckonings.own_unit import bare_degC
from tui.commands.reckonings.topic import Answer, Json, Part, Topic, joined

WAYS = "--coefficient, or --appeared twice or more, or --row twice or more"


def _declare(parser: argparse.ArgumentParser) -> None:
    time = parser.add_argument_group("a time at another temperature")
    time.add_argument("--time", metavar="TIME", help='the time known, such as "6 min"')
    time.add_argument("--from", dest="known_at", metavar="TEMPERATURE", help="where it is known")
    time.add_argument("--to", metavar="TEMPERATURE", help="where it is wanted")
    time.add_argument("--table", action="store_true", help="a table over the whole range instead")
    time.add_argument(
        "--every", metavar="KELVIN", default="1K", help='steps of the table: "1K", "5 delta_degF"'
    )
    time.add_argument("--probe", metavar="KELVIN", default="0.5K", help="how well the bath is known (0.5K)")
    speed = parser.add_argument_group("how much quicker in warmth (one of)")
    speed.add_argument(
        "--coefficient", metavar="HOW", help='"2.36/10K", "2.0/7K", "K25/K15=2.4", "0.037log/K"'
    )
    speed.add_argument(
        "--appeared", metavar="TIME@TEMPERATURE", action="append", help="first appearance; twice or more"
    )
    speed.add_argument(
        "--row", metavar="TIME@TEMPERATURE", action="append", help="a row of a printed table; twice or more"
    )
    speed.add_argument("--low", metavar="TEMPERATURE", help="lowest one tested (13 degC, or the table's)")
    speed.add_argument("--high", metavar="TEMPERATURE", help="highest one tested (25 degC, or the table's)")
    parser.add_argument("--scale", choices=("degC", "degF", "K"), default="degC", help="how to print it")


def _reckon(args: argparse.Namespace) -> Answer:
    if sum(given is not None for given in (args.coefficient, args.appeared, args.row)) != 1:
        raise Refused(
            "needs one way to know how much quicker it is", where="reckon temperature", allowed=WAYS
        )
    parts = [_coefficient_said(args)] if args.row is None else []
    if args.time or args.to or args.table or args.row:
        rate = _rate(args)
        parts.append(_table(args, rate) if args.table else _one_time(args, rate))
    return joined(reversed(parts))


def _coefficient_said(args: argparse.Namespace) -> Part:
    measured = _measured(args)
    ln_per_K = measured.ln_per_K if measured else read_coefficient(args.coefficient, where="--coefficient")
    values: dict[str, Json] = {
        "ln_per_K": ln_per_K,
        "log10_per_K": log10_per_K_from_ln(ln_per_K),
        "ratio_per_10K": ratio_from_ln_per_K(ln_per_K, 10),
        "ratio_per_7K": ratio_from_ln_per_K(ln_per_K, 7),
        "k25_over_k15": k25_k15_from_ln_per_K(ln_per_K),
    }
    ratios = f"{values['ratio_per_10K']:.3g} for 10 K, which is {values['ratio_per_7K']:.3g} for 7 K"
    lines = [f"coefficient {ratios}, or log10 {values['log10_per_K']:.4f} for 1 K"]
    if measured:
        low, high = (_ratio_10(measured, sign) for sign in (-1, 1))
        values |= {
            "ln_per_K_uncertainty": measured.uncertainty_per_K,
            "ratio_per_10K_low": low,
            "ratio_per_10K_high": high,
        }
        lines.append(f"  measured: about 19 times in 20 between {low:.3g} and {high:.3g} for 10 K")
    return values, lines


def _ratio_10(measured: MeasuredCoefficient, sign: int) -> float:
    return ratio_from_ln_per_K(max(0.0, measured.ln_per_K + sign * 2 * measured.uncertainty_per_K), 10)


def _measured(args: argparse.Namespace) -> MeasuredCoefficient | None:
    if args.appeared is None:
        return None
    return measured_coefficient(_pairs(args.appeared, "--appeared"))


def _rate(args: argparse.Namespace) -> Rate:
    low = bare_degC(args.low, where="--low") if args.low else None
    high = bare_degC(args.high, where="--high") if args.high else None
    if args.row is not None:
        rows = tuple((bath, time_s) for time_s, bath in _pairs(args.row, "--row"))
        reference_degC = _known_at(args) if args.known_at else rows[0][0]
        least = -math.inf if low is None else low
        most = math.inf if high is None else high
        return TableRate(rows, reference_degC, least, most, doubt_share=PRINTED_RATE_DOUBT)
    measured = _measured(args)
    ln_per_K = measured.ln_per_K if measured else read_coefficient(args.coefficient, where="--coefficient")
    defaults = CoefficientRate(ln_per_K, 20.0)
    low = defaults.low_degC if low is None else low
    high = defaults.high_degC if high is None else high
    share = measured.doubt_share if measured else PRINTED_RATE_DOUBT
    return CoefficientRate(ln_per_K, _known_at(args), low, high, doubt_share=share)


def _known(args: argparse.Namespace, rate: Rate) -> tuple[float, float]:
    """Return the time known [s] and the temperature [degC] where it is; a table knows its own."""
    if args.time:
        return read_time_s(args.time, where="--time"), rate.reference_degC
    if args.row is None:
        raise Refused("the time known is missing", where="--time", allowed='such as --time "6 min"')
    time_s, bath_degC = _pairs(args.row, "--row")[0]
    return time_s, bath_degC


def _known_at(args: argparse.Namespace) -> float:
    if not args.known_at:
        raise Refused("where the time is known is missing", where="--from", allowed="such as --from 20degC")
    return bare_degC(args.known_at, where="--from")


def _one_time(args: argparse.Namespace, rate: Rate) -> Part:
    if not args.to:
        raise Refused("where the time is wanted is missing", where="--to", allowed="--to 16degC, or --table")
    to_degC = bare_degC(args.to, where="--to")
    known_s, from_degC = _known(args, rate)
    time_s = time_at(rate, known_s, from_degC, to_degC)
    probe_K = abs(read_difference_K(args.probe, where="--probe"))
    bath, law = doubt(rate, to_degC, probe_K), abs(ln_rate_doubt(rate, to_degC))
    share = time_doubt(rate, to_degC, probe_K)
    of = "the measured coefficient" if args.appeared else "the printed rate, not your own"
    values: dict[str, Json] = {
        "time_s": time_s,
        "to_degC": to_degC,
        "known_s": known_s,
        "from_degC": from_degC,
        "probe_K": probe_K,
        "uncertain_s": share * time_s,
        "uncertain_by_bath_s": bath * time_s,
        "uncertain_by_coefficient_s": law * time_s,
        "low_degC": rate.low_degC,
        "high_degC": rate.high_degC,
        "outside_K": outside_K(rate, to_degC),
    }
    lines = [
        f"{say_time(time_s)} at {_said(args, to_degC)}, as {say_time(known_s)} at {_said(args, from_degC)}",
        f"  ± {say_time(round(share * time_s))} ({100 * share:.1f} %), about 19 times in 20",
        f"  by the bath, known to {probe_K:g} K: {say_time(round(bath * time_s))}",
        f"  by {of}: {say_time(round(law * time_s))}",
        f"  {_range_words(args, rate, to_degC)}",
    ]
    return values, lines


def _range_words(args: argparse.Namespace, rate: Rate, bath_degC: float) -> str:
    """Return for which baths the rate is tested, and how far outside them this one is."""
    tested = f"{_said(args, rate.low_degC)} to {_said(args, rate.high_degC)}"
    far_K = outside_K(rate, bath_degC)
    if not far_K:
        return f"holds from {tested}"
    return f"OUTSIDE THE TESTED RANGE, {tested}, by {abs(far_K):.1f} K: the same law, a larger doubt"


def _table(args: argparse.Namespace, rate: Rate) -> Part:
    known_s, from_degC = _known(args, rate)
    every_K = read_difference_K(args.every, where="--every")
    if not 0.1 <= every_K <= 10:
        raise Refused(f"steps of {every_K:g} K", where="--every", allowed="0.1 K to 10 K")
    below = int((rate.reference_degC - rate.low_degC) / every_K + 1e-9)
    above = int((rate.high_degC - rate.reference_degC) / every_K + 1e-9)
    baths = [rate.reference_degC + every_K * step for step in range(-below, above + 1)]
    times = [(bath, time_at(rate, known_s, from_degC, bath)) for bath in baths]
    rows: list[Json] = [{"bath_degC": bath, "time_s": time_s} for bath, time_s in times]
    lines = [f"{_said(args, bath):>8}  {say_time(time_s)}" for bath, time_s in times]
    return {"rows": rows, "known_s": known_s, "from_degC": from_degC}, lines


def _pairs(texts: Sequence[str], where: str) -> list[tuple[float, float]]:
    """Read "70s@8degC" and return (time_s, bath_degC) for each."""
    pairs = []
    for text in texts:
        time, at, bath = text.partition("@")
        if not at:
            raise Refused("no time and temperature", where=where, allowed='"70s@8degC"')
        pairs.append((read_time_s(time, where=where), bare_degC(bath, where=where)))
    return pairs


def _said(args: argparse.Namespace, bath_degC: float) -> str:
    return say_temperature(bath_degC, args.scale)


TOPIC = Topic(_declare, _reckon)
