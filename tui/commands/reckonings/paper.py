"""``embertray reckon paper``: range and grade of a paper, the negative that suits it, burns, other papers."""

from __future__ import annotations

import argparse
from collections.abc import Mapping

from firmware_py.craft.paper import (
    GRADES,
    burn_s,
    dodge_s,
    fit,
    grade_of,
    iso_points,
    log_range_by_eye,
    printing_range,
    time_on_other_paper_s,
)
from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.strips import say_stops
from firmware_py.craft.units import read_number, read_time_s, say_time
from tui.commands.reckonings.topic import Answer, Json, Part, Topic, joined


def _declare(parser: argparse.ArgumentParser) -> None:
    paper = parser.add_argument_group("the paper's range")
    paper.add_argument(
        "--point",
        metavar="LOGH:DENSITY",
        action="append",
        default=[],
        help="a point of its curve; repeatable",
    )
    paper.add_argument("--fog", metavar="DENSITY", help="of unexposed paper (default: the curve's least)")
    paper.add_argument("--dmax", metavar="DENSITY", help="of black paper (default: the curve's largest)")
    paper.add_argument("--first-tone", metavar="DENSITY", help="step of a wedge under the first visible tone")
    paper.add_argument("--full-black", metavar="DENSITY", help="step of the wedge under the first full black")
    paper.add_argument("--range", metavar="LOG", help="the log range, if known: 1.05 for an ISO range of 105")
    paper.add_argument(
        "--bounds", metavar="GRADE:LOW-HIGH", action="append", default=[], help="your own bounds of a grade"
    )
    negative = parser.add_argument_group("the negative")
    negative.add_argument("--negative", metavar="DENSITY", help="its range of densities")
    negative.add_argument(
        "--stain", metavar="RATIO", default="1", help="printing to visual density (default 1)"
    )
    printing = parser.add_argument_group("printing")
    printing.add_argument("--base", metavar="TIME", help="base exposure")
    printing.add_argument("--burn", metavar="STOPS", action="append", default=[], help="repeatable")
    printing.add_argument("--dodge", metavar="STOPS", action="append", default=[], help="repeatable")
    printing.add_argument("--from-speed", metavar="SPEED", help="speed of the paper that --base was for")
    printing.add_argument("--to-speed", metavar="SPEED", help="speed of the other paper, in the same scale")


def _reckon(args: argparse.Namespace) -> Answer:
    grades = _grades(args.bounds)
    log_range, parts = _paper_range(args)
    if log_range is not None:
        parts.append(_grade(log_range, grades, own=bool(args.bounds)))
    if args.negative is not None:
        parts.append(_negative(args, log_range, grades))
    parts += _printing(args)
    if not parts:
        raise Refused("not enough to reckon with", where="reckon paper", allowed="see reckon paper --help")
    return joined(parts)


def _grades(bounds: list[str]) -> Mapping[int, tuple[float, float]]:
    grades = dict(GRADES)
    for text in bounds:
        grade, _, ends = text.partition(":")
        low, dash, high = ends.partition("-")
        if not dash or not grade.strip().isdecimal():
            raise Refused(shown(text), where="--bounds", allowed='such as "2:0.95-1.15"')
        pair = (read_number(low, where="--bounds", low=0), read_number(high, where="--bounds", low=0))
        if pair[0] >= pair[1]:
            raise Refused(shown(text), where="--bounds", allowed="the lower bound first")
        grades[int(grade)] = pair
    return grades


def _paper_range(args: argparse.Namespace) -> tuple[float | None, list[Part]]:
    wedge = [args.first_tone, args.full_black]
    if sum((bool(args.point), any(wedge), args.range is not None)) > 1:
        raise Refused("two ranges", where="reckon paper", allowed="a curve, a wedge, or --range")
    if args.point:
        return _from_curve(args)
    if args.range is not None:
        return read_number(args.range, where="--range", low=0.1, high=3.0), []
    if not any(wedge):
        return None, []
    if not all(wedge):
        raise Refused("half a wedge", where="reckon paper", allowed="--first-tone with --full-black")
    first, black = read_number(wedge[0], where="--first-tone"), read_number(wedge[1], where="--full-black")
    return log_range_by_eye(first, black), []


def _from_curve(args: argparse.Namespace) -> tuple[float, list[Part]]:
    curve = [_point(text) for text in args.point]
    fog = None if args.fog is None else read_number(args.fog, where="--fog")
    dmax = None if args.dmax is None else read_number(args.dmax, where="--dmax")
    points = iso_points(curve, base_fog=fog, dmax=dmax)
    values: dict[str, Json] = {
        "highlight_density": round(points.highlight_density, 4),
        "highlight_log_exposure": round(points.highlight_log, 4),
        "shadow_density": round(points.shadow_density, 4),
        "shadow_log_exposure": round(points.shadow_log, 4),
        "iso_range": points.iso_range,
    }
    lines = [
        f"highlights at density {points.highlight_density:.2f}, log exposure {points.highlight_log:.2f}",
        f"shadows at density {points.shadow_density:.2f}, log exposure {points.shadow_log:.2f}",
        f"ISO range R {points.iso_range}",
    ]
    return points.log_range, [(values, lines)]


def _point(text: str) -> tuple[float, float]:
    log_exposure, colon, density = text.partition(":")
    if not colon:
        raise Refused(shown(text), where="--point", allowed='log exposure and density, such as "0.3:0.25"')
    return read_number(log_exposure, where="--point"), read_number(density, where="--point")


def _grade(log_range: float, grades: Mapping[int, tuple[float, float]], *, own: bool) -> Part:
    grade = grade_of(log_range, grades)
    source = "your own bounds" if own else "bounds from memory; give your own by --bounds"
    values: dict[str, Json] = {"log_range": round(log_range, 4), "grade": grade, "bounds": source}
    return values, [f"log range {log_range:.2f}: grade {grade} ({source})"]


def _negative(
    args: argparse.Namespace, log_range: float | None, grades: Mapping[int, tuple[float, float]]
) -> Part:
    visual = read_number(args.negative, where="--negative")
    prints = printing_range(visual, read_number(args.stain, where="--stain"))
    values: dict[str, Json] = {"printing_density_range": round(prints, 4)}
    if log_range is None:
        grade = grade_of(prints, grades)
        return values | {"grade": grade}, [
            f"a negative that prints with a range of {prints:.2f}: grade {grade}"
        ]
    found = fit(prints, log_range)
    values |= {
        "excess_density": round(found.excess, 4),
        "gamma_times": round(found.gamma_times, 4),
        "verdict": found.verdict,
    }
    lines = [
        f"the negative prints with a range of {prints:.2f}, {found.excess:+.2f} to the paper: {found.verdict}"
    ]
    if found.verdict != "suits":
        lines.append(f"  it would have suited with {found.gamma_times:.2f} times its gamma")
    return values, lines


def _printing(args: argparse.Namespace) -> list[Part]:
    speeds = (args.from_speed, args.to_speed)
    if args.base is None:
        if args.burn or args.dodge or any(speeds):
            raise Refused("no base exposure", where="reckon paper", allowed="--base TIME")
        return []
    base_s = read_time_s(args.base, where="--base")
    parts: list[Part] = []
    if any(speeds):
        base_s = _on_other_paper_s(base_s, args)
    line = f"base {say_time(base_s)}" + (" on the other paper" if any(speeds) else "")
    parts.append(({"base_s": round(base_s, 6)}, [line]))
    parts += [_burns(base_s, args.burn)] if args.burn else []
    parts += [_dodges(base_s, args.dodge)] if args.dodge else []
    return parts


def _on_other_paper_s(base_s: float, args: argparse.Namespace) -> float:
    if not (args.from_speed and args.to_speed):
        raise Refused("one speed", where="reckon paper", allowed="--from-speed with --to-speed")
    speed = read_number(args.from_speed, where="--from-speed")
    return time_on_other_paper_s(base_s, speed, read_number(args.to_speed, where="--to-speed"))


def _burns(base_s: float, texts: list[str]) -> Part:
    burns = [read_number(text, where="--burn") for text in texts]
    values: Json = [{"stops": stops, "extra_s": round(burn_s(base_s, stops), 6)} for stops in burns]
    return {"burns": values}, [
        f"  burn {say_stops(stops)}: {burn_s(base_s, stops):.2f} s more" for stops in burns
    ]


def _dodges(base_s: float, texts: list[str]) -> Part:
    dodges = [read_number(text, where="--dodge") for text in texts]
    values: Json = [{"stops": stops, "shaded_s": round(dodge_s(base_s, stops), 6)} for stops in dodges]
    return {"dodges": values}, [
        f"  dodge {say_stops(stops)}: shaded for {dodge_s(base_s, stops):.2f} s of it" for stops in dodges
    ]


TOPIC = Topic(_declare, _reckon)
