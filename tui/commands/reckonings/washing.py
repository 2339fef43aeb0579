"""``embertray reckon washing``: what changes of water or a flow leave, and how much washing it takes."""

from __future__ import annotations

import argparse
from collections.abc import Mapping
from dataclasses import dataclass

from firmware_py.craft.percentage import read_strength_g_per_l
from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_time
from firmware_py.craft.units import read_area_cm2, read_number, read_time_s
from firmware_py.craft.washing import (
    LEAST_CHANGE_S,
    PERMITTED_G_PER_M2,
    after_changes_g_per_l,
    changes_for_residue,
    flow_time_for_residue_s,
    in_flow_g_per_l,
    least_changes,
    least_running_s,
    residue_g_per_m2,
    thiosulphate_g_per_l,
)
from tui.commands.reckonings.own_unit import bare_ml
from tui.commands.reckonings.topic import Answer, Json, Topic

_WAYS = (
    "--hypo STRENGTH (or --strength STRENGTH) --carried VOLUME --area AREA, with --each VOLUME [--changes N] "
    "or --tank VOLUME --flow VOLUME [--after TIME]"
)


@dataclass(frozen=True, slots=True)
class _Carried:
    """What comes out of the fixer with the plates."""

    g_per_l: float
    ml: float
    cm2: float
    permitted_g_per_m2: float


def _declare(parser: argparse.ArgumentParser) -> None:
    parser.add_argument(
        "--hypo", metavar="STRENGTH", help="hypo crystals in the fixer, such as '250 g/l' or '25 %%'"
    )
    parser.add_argument(
        "--strength", metavar="STRENGTH", help="thiosulphate itself in the fixer, such as 60g/l"
    )
    parser.add_argument(
        "--carried", metavar="VOLUME", help="what the plates carry from bath to bath, in and on them"
    )
    parser.add_argument("--area", metavar="AREA", help="their coated area, such as '4 3/4 x 6 1/2 in'")
    parser.add_argument("--each", metavar="VOLUME", help="the water of each change")
    parser.add_argument("--changes", metavar="N", help="so many changes; without it, as many as it takes")
    parser.add_argument("--tank", metavar="VOLUME", help="what the washing tank holds")
    parser.add_argument("--flow", metavar="VOLUME", help="what runs through it in a minute")
    parser.add_argument(
        "--after", metavar="TIME", help="so long in the flow; without it, as long as it takes"
    )
    parser.add_argument(
        "--permitted", metavar="G_PER_M2", help=f"what may stay, g/m2 ({PERMITTED_G_PER_M2:g})"
    )

    parser.add_argument(
        "--hardened", action="store_true", help="the gelatine was hardened by alum: longer in all ways"
    )


def _reckon(args: argparse.Namespace) -> Answer:
    if bool(args.hypo) == bool(args.strength) or not (args.carried and args.area):
        raise Refused("not enough to reckon with, or too much", where="reckon washing", allowed=_WAYS)
    if args.each and not (args.tank or args.flow):
        return _by_changes(args, _carried(args))
    if args.tank and args.flow and not args.each:
        return _by_flow(args, _carried(args))
    raise Refused("neither changes nor a flow", where="reckon washing", allowed=_WAYS)


def _carried(args: argparse.Namespace) -> _Carried:
    if args.hypo:
        g_per_l = thiosulphate_g_per_l(read_strength_g_per_l(args.hypo, where="--hypo"))
    else:
        g_per_l = read_strength_g_per_l(args.strength, where="--strength")
    permitted = PERMITTED_G_PER_M2
    if args.permitted:
        permitted = read_number(args.permitted, where="--permitted", low=1e-6, high=100)
    volume_ml = bare_ml(args.carried, where="--carried")
    return _Carried(g_per_l, volume_ml, read_area_cm2(args.area, where="--area"), permitted)


def _by_changes(args: argparse.Namespace, start: _Carried) -> Answer:
    each_ml = bare_ml(args.each, where="--each")
    if args.changes:
        changes = _whole(args.changes)
    else:
        changes = changes_for_residue(
            start.g_per_l, start.ml, each_ml, start.cm2, permitted_g_per_m2=start.permitted_g_per_m2
        )
    left = after_changes_g_per_l(start.g_per_l, start.ml, each_ml, changes)
    residue = residue_g_per_m2(left, start.ml, start.cm2)
    floor = least_changes(args.hardened)
    advised = max(changes, floor)
    least_s = advised * LEAST_CHANGE_S
    few = "TOO FEW: give " if args.changes and changes < floor else "give "
    after = " after alum" if args.hardened else ""
    lines = (
        f"{few}{advised} changes, {say_time(LEAST_CHANGE_S)} each, moving: {say_time(least_s)} in all",
        f"  {changes} changes of {each_ml:.0f} ml, calculated, leave {_judged(residue, start)}",
        f"  in print {floor} changes{after} are the least, for the gelatine gives up its hypo slowly",
    )
    values: Mapping[str, Json] = {
        "changes": changes,
        "left_g_per_l": left,
        "residue_g_per_m2": residue,
        "permitted_g_per_m2": start.permitted_g_per_m2,
        "least_changes": floor,
        "advised_changes": advised,
        "weakened_by": start.g_per_l / left if left else None,
        "at_least_s": least_s,
    }
    return Answer(values, lines)


def _by_flow(args: argparse.Namespace, start: _Carried) -> Answer:
    tank_ml = bare_ml(args.tank, where="--tank")
    flow_ml_per_s = bare_ml(args.flow, where="--flow") / 60
    time_s = _flow_time_s(args, start, tank_ml, flow_ml_per_s)
    left = in_flow_g_per_l(start.g_per_l, start.ml, tank_ml, flow_ml_per_s, time_s)
    residue = residue_g_per_m2(left, start.ml, start.cm2)
    floor_s = least_running_s(args.hardened)
    least_s = max(time_s, floor_s)
    after = " after alum" if args.hardened else ""
    lines = (
        f"wash for {say_time(least_s)}",
        f"  {say_time(time_s)} in the flow, calculated, leave {_judged(residue, start)}",
        f"  in practice {say_time(floor_s)} of running water{after} is the least",
    )
    values: Mapping[str, Json] = {
        "time_s": time_s,
        "left_g_per_l": left,
        "residue_g_per_m2": residue,
        "permitted_g_per_m2": start.permitted_g_per_m2,
        "at_least_s": least_s,
    }
    return Answer(values, lines)


def _flow_time_s(args: argparse.Namespace, start: _Carried, tank_ml: float, flow_ml_per_s: float) -> float:
    if args.after:
        return read_time_s(args.after, where="--after")
    return flow_time_for_residue_s(
        start.g_per_l,
        start.ml,
        tank_ml,
        flow_ml_per_s,
        start.cm2,
        permitted_g_per_m2=start.permitted_g_per_m2,
    )


def _judged(residue: float, start: _Carried) -> str:
    # what was reckoned to be just enough must not fail by its last digit
    enough = residue <= start.permitted_g_per_m2 * (1 + 1e-6)
    rule = f"{'' if enough else 'only '}{start.permitted_g_per_m2:g} may stay"
    return f"{residue:.2g} g/m2 of thiosulphate; {rule}"


def _whole(text: str) -> int:
    number = read_number(text, where="--changes", low=0, high=100)
    if number != int(number):
        raise Refused(f"{text} changes", where="--changes", allowed="a whole number")
    return int(number)


TOPIC = Topic(_declare, _reckon)
