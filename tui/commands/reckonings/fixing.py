"""``embertray reckon fixing``: how long to fix, and whether the fixer is still good."""

from __future__ import annotations

import argparse

from firmware_py.craft.fixing import (
    AGEING_AT,
    SPENT_AT,
    TIMES_CLEARING,
    FixerVerdict,
    fixer_verdict,
    fixing_time_s,
    two_bath_times_s,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_time
from firmware_py.craft.units import read_number, read_time_s
from tui.commands.reckonings.topic import Answer, Json, Topic

_WORDS = {
    "fresh": "the fixer is fresh",
    "ageing": "the fixer is ageing: have a new one ready",
    "spent": "the fixer is spent: mix a new one, and fix this plate again in it",
}


def _declare(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--clears", metavar="TIME", help="the time in which the plate lost its milkiness")
    parser.add_argument("--fresh", metavar="TIME", help="the same in the fresh fixer, same kind of plate")
    parser.add_argument(
        "--times", metavar="N", help=f"fix for so many times the clearing time ({TIMES_CLEARING:g})"
    )
    parser.add_argument("--two-baths", action="store_true", help="fix in two baths, one after the other")
    parser.add_argument("--ageing-at", metavar="N", help=f"times fresh at which to warn ({AGEING_AT:g})")
    parser.add_argument("--spent-at", metavar="N", help=f"times fresh at which to give up ({SPENT_AT:g})")


def _reckon(args: argparse.Namespace) -> Answer:
    if not args.clears:
        raise Refused("no clearing time", where="reckon fixing", allowed="--clears TIME [--fresh TIME]")
    clearing_s = read_time_s(args.clears, where="--clears")
    values: dict[str, Json] = {"clearing_s": clearing_s}
    lines: list[str] = []
    if args.two_baths:
        _say_two_baths(clearing_s, values, lines)
    else:
        times = _number(args.times, TIMES_CLEARING, "--times")
        values["time_s"] = fixing_time_s(clearing_s, times)
        lines.append(
            f"fix for {say_time(fixing_time_s(clearing_s, times))} in all, {times:g} times the clearing"
        )
    if args.fresh:
        _say_verdict(_verdict(args, clearing_s), values, lines)
    return Answer(values, tuple(lines))


def _say_two_baths(clearing_s: float, values: dict[str, Json], lines: list[str]) -> None:
    first_s, second_s = two_bath_times_s(clearing_s)
    values.update(first_bath_s=first_s, second_bath_s=second_s)
    lines.append(
        f"fix for {say_time(first_s)} in the first bath and {say_time(second_s)} in the second, fresher one"
    )


def _say_verdict(verdict: FixerVerdict, values: dict[str, Json], lines: list[str]) -> None:
    values.update(times_fresh=verdict.times_fresh, verdict=verdict.state)
    lines.append(f"  {_WORDS[verdict.state]}; it takes {verdict.times_fresh:.2f} times as long as when new")


def _verdict(args: argparse.Namespace, clearing_s: float) -> FixerVerdict:
    return fixer_verdict(
        clearing_s,
        read_time_s(args.fresh, where="--fresh"),
        ageing_at=_number(args.ageing_at, AGEING_AT, "--ageing-at"),
        spent_at=_number(args.spent_at, SPENT_AT, "--spent-at"),
    )


def _number(text: str | None, usual: float, where: str) -> float:
    return usual if text is None else read_number(text, where=where)


TOPIC = Topic(_declare, _reckon)
