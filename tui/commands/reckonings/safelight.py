"""``embertray reckon safelight``: the safe time of a safelight, and what is left of a plate's budget."""

from __future__ import annotations

import argparse
from collections.abc import Mapping

from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.safelight import Budget, OpenTime, budget, safe_s
from firmware_py.craft.units import read_time_s, say_time
from tui.commands.reckonings.topic import Answer, Json, Topic

TESTED = "tested light"


def _declare(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--no-change", metavar="TIME", help="the longest time that changed nothing")
    parser.add_argument("--detectable", metavar="TIME", help="the next time, which changed it just visibly")
    parser.add_argument(
        "--light", metavar="NAME:TIME", action="append", default=[], help="another light and its safe time"
    )
    parser.add_argument(
        "--open",
        dest="opened",
        metavar="[NAME:]TIME",
        action="append",
        default=[],
        help="how long the plate lay open, under the tested light or the one named",
    )


def _reckon(args: argparse.Namespace) -> Answer:
    safe_times_s = _safe_times_s(args)
    values: dict[str, Json] = {}
    lines: list[str] = []
    if TESTED in safe_times_s:
        values["safe_s"] = round(safe_times_s[TESTED], 1)
        lines += _tested_lines(safe_times_s[TESTED], read_time_s(args.no_change, where="--no-change"))
    if args.opened or not lines:
        used = budget([_open_time(text) for text in args.opened], safe_times_s)
        lines += _budget_lines(used, safe_times_s)
        values |= _budget_values(used, safe_times_s)
    return Answer(values, tuple(lines))


def _tested_lines(tested_s: float, no_change_s: float) -> list[str]:
    lines = [
        f"safe for {say_time(tested_s, decimals=1)} at most, all open times together",
        "  with this light, at this distance, for this kind of plate: test again when one changes",
    ]
    if tested_s > no_change_s:
        lines.append("  that is longer than any time found harmless: test again in finer steps")
    return lines


def _safe_times_s(args: argparse.Namespace) -> Mapping[str, float]:
    safe_times_s = dict(_named_time(text, "--light") for text in args.light)
    if (args.no_change is None) != (args.detectable is None) or not (safe_times_s or args.no_change):
        raise Refused(
            "not enough to reckon with",
            where="reckon safelight",
            allowed="--no-change TIME with --detectable TIME, or --light NAME:TIME",
        )
    if args.no_change is not None:
        no_change_s = read_time_s(args.no_change, where="--no-change")
        safe_times_s[TESTED] = safe_s(no_change_s, read_time_s(args.detectable, where="--detectable"))
    return safe_times_s


def _named_time(text: str, where: str) -> tuple[str, float]:
    name, colon, time = text.partition(":")
    name = name.strip()
    if not colon or not name.isprintable() or not name[:1].isalpha():
        raise Refused(shown(text), where=where, allowed='a name and a time, such as "red:170s"')
    return name, read_time_s(time, where=where)


def _open_time(text: str) -> OpenTime:
    """Read "red:40s", or "40s" under the tested light; "1:30" stays minutes and seconds."""
    if text.strip()[:1].isdigit():
        return OpenTime(TESTED, read_time_s(text, where="--open"))
    return OpenTime(*_named_time(text, "--open"))


def _budget_lines(used: Budget, safe_times_s: Mapping[str, float]) -> list[str]:
    left = [
        f"  left under the {name}: {say_time(used.left_s(time_s), decimals=1)}"
        for name, time_s in safe_times_s.items()
    ]
    return [f"{100 * used.used:.1f} % of the plate's budget used: {used.state}", *left]


def _budget_values(used: Budget, safe_times_s: Mapping[str, float]) -> dict[str, Json]:
    return {
        "used_fraction": round(used.used, 6),
        "state": used.state,
        "left_s": {name: round(used.left_s(time_s), 1) for name, time_s in safe_times_s.items()},
    }


TOPIC = Topic(_declare, _reckon)
