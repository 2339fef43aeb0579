"""``embertray reckon contrast``: gamma against time, a tablet's curve, and advice after a plate."""

from __future__ import annotations

import argparse
from collections.abc import Sequence

from firmware_py.craft.advice import Advice, advice_by_eye, advice_by_measure
from firmware_py.craft.contrast import (
    Growth,
    MeasuredGrowth,
    fit_growth,
    gamma_for_ranges,
    read_growth_constant,
)
from firmware_py.craft.curve import mean_gradient, straight_part, tablet_points
from firmware_py.craft.refusal import Refused
from firmware_py.craft.units import read_number, read_time_s, say_time
from firmware_py.craft.verdict import Contrast, Density
from tui.commands.reckonings.topic import Answer, Json, Part, Topic, joined


def _declare(parser: argparse.ArgumentParser) -> None:
    growth = parser.add_argument_group("growth of contrast (times are equivalent times)")
    growth.add_argument("--point", metavar="TIME:GAMMA", action="append", help="measured; twice or more")
    growth.add_argument("--gamma-inf", metavar="N", help="if known: the gamma of endless development")
    growth.add_argument("--k", metavar="CONSTANT", help='if known: "0.32ln/min" or "0.14log10/min"')
    growth.add_argument("--want", metavar="GAMMA", help="time for this gamma")
    growth.add_argument("--paper", metavar="RANGE", help="log exposure range of the paper, such as 1.05")
    growth.add_argument("--subject", metavar="RANGE", help='range of the subject: "1.5" (log) or "5 stops"')
    growth.add_argument("--time", metavar="TIME", help="gamma at this time; the time of a plate to advise on")
    curve = parser.add_argument_group("characteristic curve from a step tablet")
    curve.add_argument("--densities", metavar="D,D,…", help="in order of rising exposure")
    curve.add_argument("--increment", metavar="LOG", help="log exposure from step to step, such as 0.15")
    curve.add_argument("--first", metavar="LOG", default="0", help="log exposure of the first step")
    curve.add_argument("--fog", metavar="DENSITY", help="of an unexposed part (else the least density)")
    advice = parser.add_argument_group("advice after a plate (with --time)")
    advice.add_argument(
        "--after", metavar="LOOK", help='by eye: "hard,thin"; hard, right, flat; thin, right, dense'
    )
    advice.add_argument("--got", metavar="RANGE", help="measured density range of the plate; wants --paper")
    advice.add_argument("--shadow", metavar="DENSITY", help="over fog, of the thinnest shadow with detail")


def _reckon(args: argparse.Namespace) -> Answer:
    parts = [_curve(args)] if args.densities else []
    measured, growth = _growth(args)
    if measured:
        parts.append(_fitted(measured))
    if growth and (args.want or args.subject):
        parts.append(_wanted(args, growth, measured))
    if args.after or args.got:
        parts.append(_advised(args, growth))
    elif growth and args.time:
        parts.append(_gamma_at(args, growth))
    if not parts:
        allowed = "--point twice or more, or --gamma-inf and --k with --want or --time; --densities; --after"
        raise Refused("not enough to reckon with", where="reckon contrast", allowed=allowed)
    return joined(parts)


def _growth(args: argparse.Namespace) -> tuple[MeasuredGrowth | None, Growth | None]:
    if args.point:
        measured = fit_growth([_point(text) for text in args.point])
        return measured, measured.growth
    if (args.gamma_inf is None) != (args.k is None):
        raise Refused("go together", where="--gamma-inf and --k", allowed="both, or --point twice or more")
    if args.k is None:
        return None, None
    end = read_number(args.gamma_inf, where="--gamma-inf")
    return None, Growth(end, read_growth_constant(args.k, where="--k"))


def _point(text: str) -> tuple[float, float]:
    time, colon, gamma = text.rpartition(":")
    if not colon:
        raise Refused("no time and gamma", where="--point", allowed='"3min:0.89"')
    return read_time_s(time, where="--point"), read_number(gamma, where="--point")


def _fitted(measured: MeasuredGrowth) -> Part:
    growth = measured.growth
    values: dict[str, Json] = {
        "gamma_inf": growth.gamma_inf,
        "gamma_inf_uncertainty": measured.gamma_inf_doubt,
        "k_per_min": growth.k_per_min,
        "k_per_min_uncertainty": measured.k_doubt_per_min,
        "misfit_gamma": measured.misfit,
    }
    line = (
        f"gamma_inf {growth.gamma_inf:.3f} ± {measured.gamma_inf_doubt:.3f}, "
        f"k {growth.k_per_min:.4f} ± {measured.k_doubt_per_min:.4f} per min (natural base)"
    )
    lines = [line]
    if measured.k_doubt_per_min > growth.k_per_min / 2:
        lines.append("  these points hardly tell it: measure at shorter and longer times")
    return values, lines


def _wanted(args: argparse.Namespace, growth: Growth, measured: MeasuredGrowth | None) -> Part:
    gamma = _wanted_gamma(args)
    time_s = growth.time_for(gamma)
    values: dict[str, Json] = {"want_gamma": gamma, "time_s": time_s}
    line = f"{say_time(time_s)} of equivalent time for gamma {gamma:.3g}"
    if measured:
        values["time_uncertainty_s"] = measured.time_doubt_s(gamma)
        line += f", ± {say_time(round(measured.time_doubt_s(gamma)))}"
    return values, [line]


def _wanted_gamma(args: argparse.Namespace) -> float:
    if args.want:
        return read_number(args.want, where="--want")
    if not args.paper:
        raise Refused("is missing", where="--paper", allowed="the log exposure range of the paper")
    paper = read_number(args.paper, where="--paper")
    return gamma_for_ranges(paper, _subject_log(args.subject))


def _subject_log(text: str) -> float:
    number, stops, rest = text.strip().partition("stop")
    value = read_number(number, where="--subject", low=0)
    if rest not in {"", "s"}:
        raise Refused(f'"{rest}" after the stops', where="--subject", allowed='"1.5" or "5 stops"')
    return value * 0.30103 if stops else value


def _gamma_at(args: argparse.Namespace, growth: Growth) -> Part:
    time_s = read_time_s(args.time, where="--time")
    gamma = growth.gamma_at(time_s)
    line = f"gamma {gamma:.3f} after {say_time(time_s)} of equivalent time"
    return {"gamma": gamma, "at_s": time_s}, [line]


def _curve(args: argparse.Namespace) -> Part:
    densities = [read_number(text, where="--densities") for text in args.densities.split(",")]
    if args.increment is None:
        raise Refused(
            "is missing", where="--increment", allowed="log exposure from step to step, such as 0.15"
        )
    step = read_number(args.increment, where="--increment")
    points = tablet_points(densities, step, read_number(args.first, where="--first"))
    fog = min(densities) if args.fog is None else read_number(args.fog, where="--fog")
    straight = straight_part(points, fog)
    values: dict[str, Json] = {
        "gamma": straight.gamma,
        "inertia_log10": straight.inertia_log,
        "straight_from_log10": straight.from_log,
        "straight_to_log10": straight.to_log,
        "fog_density": fog,
    }
    span = f"{straight.from_log:.2f} to {straight.to_log:.2f}"
    lines = [
        f"gamma {straight.gamma:.3f}, straight from log exposure {span}",
        f"  inertia at log exposure {straight.inertia_log:.3f} (fog {fog:.2f})",
    ]
    more_values, more_lines = _iso6(points, fog)
    return values | more_values, lines + more_lines


def _iso6(points: Sequence[tuple[float, float]], fog: float) -> Part:
    """Return the mean gradient by ISO 6 if the curve reaches so far; a short curve has none."""
    try:
        mean = mean_gradient(points, fog)
    except Refused as refused:
        return {"mean_gradient": None}, [f"  no mean gradient by ISO 6: {refused.what}"]
    values: dict[str, Json] = {
        "mean_gradient": mean.gradient,
        "iso6_density_range": mean.density_range,
        "speed_point_log10": mean.speed_point_log,
    }
    line = (
        f"  mean gradient {mean.gradient:.3f}: density {mean.density_range:.2f} over 1.30 (ISO 6 wants 0.80)"
    )
    return values, [line]


def _advised(args: argparse.Namespace, growth: Growth | None) -> Part:
    if not args.time:
        raise Refused("is missing", where="--time", allowed="the equivalent time that the plate was given")
    time_s = read_time_s(args.time, where="--time")
    return _advice_said(_by_measure(args, growth, time_s) if args.got else _by_eye(args, growth, time_s))


def _by_eye(args: argparse.Namespace, growth: Growth | None, time_s: float) -> Advice:
    looks = {look.strip() for look in args.after.split(",")}
    contrast: Contrast = "hard" if "hard" in looks else "flat" if "flat" in looks else "right"
    weight: Density = "thin" if "thin" in looks else "dense" if "dense" in looks else "right"
    if looks - {"right"} != {contrast, weight} - {"right"}:
        allowed = "one of hard, right, flat and one of thin, right, dense"
        raise Refused(f'"{args.after[:40]}"', where="--after", allowed=allowed)
    return advice_by_eye(contrast, weight, time_s, growth)


def _by_measure(args: argparse.Namespace, growth: Growth | None, time_s: float) -> Advice:
    if growth is None or not args.paper:
        raise Refused("needs the growth and the paper", where="--got", allowed="--point or --k, and --paper")
    shadow = None if args.shadow is None else read_number(args.shadow, where="--shadow")
    got, wanted = read_number(args.got, where="--got"), read_number(args.paper, where="--paper")
    return advice_by_measure(growth, time_s, got_range=got, wanted_range=wanted, shadow_over_fog=shadow)


def _advice_said(advice: Advice) -> Part:
    change = "as long as before"
    if abs(advice.change_s) >= 1:
        change = f"{say_time(abs(round(advice.change_s)))} {'longer' if advice.change_s > 0 else 'shorter'}"
    exposure = "as before"
    if abs(advice.exposure_stops) >= 0.05:
        exposure = f"{abs(advice.exposure_stops):.1f} stops {'more' if advice.exposure_stops > 0 else 'less'}"
    values: dict[str, Json] = {
        "equivalent_s": advice.equivalent_s,
        "change_s": advice.change_s,
        "exposure_stops": advice.exposure_stops,
        "reason": advice.reason,
    }
    lines = [
        f"develop for {say_time(advice.equivalent_s)} of equivalent time, {change}; expose {exposure}",
        f"  {advice.reason}",
    ]
    return values, lines


TOPIC = Topic(_declare, _reckon)
