"""The storm: ``python -m tests.faults --seed N --sessions 200``; ``--session K`` replays one alone."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence

from tests.faults.kept import chosen, kept_plans
from tests.faults.kinds import FAULTS
from tests.faults.plan import Plan, plan, playable
from tests.faults.report import table
from tests.faults.stage.moments import now_s
from tests.faults.stage.run_controller import warm
from tests.faults.storm import played_and_judged, storm


def main(arguments: Sequence[str] | None = None) -> int:
    """Play what is asked for and print what came of it; 1 where anything did not hold."""
    asked = _parser().parse_args(arguments)
    began_s = now_s()
    warm()
    plans = _plans(asked)
    if len(plans) == 1:
        _tell(plans[0])
        reports = [played_and_judged(plans[0], keep=asked.keep)]
    else:
        reports = list(storm(plans, side_by_side=asked.side_by_side))
    print("\n".join(table(reports)))
    missing = sorted(set(FAULTS) - set(playable()))
    print(f"in {now_s() - began_s:.0f} s" + (f"; not playable here: {', '.join(missing)}" if missing else ""))
    return int(any(report.violations for report in reports))


def _plans(asked: argparse.Namespace) -> list[Plan]:
    if asked.kept:
        return kept_plans()
    if asked.fault:
        numbers = range(asked.sessions) if asked.session is None else [asked.session]
        return [chosen(asked.seed, n, tuple(asked.fault)) for n in numbers]
    if asked.session is not None:
        return [plan(asked.seed, asked.session)]
    return [plan(asked.seed, n) for n in range(asked.sessions)]


def _tell(one: Plan) -> None:
    blows = ", ".join(f"{blow.fault} at {blow.after_s:.2f} s for {blow.lasts_s:.2f} s" for blow in one.blows)
    print(f"session {one.session} of seed {one.seed}: {blows}; errands: {', '.join(one.errands)}")


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=__doc__)
    add = parser.add_argument
    add("--seed", type=int, default=1)
    add("--sessions", type=int, default=200, metavar="N")
    add("--session", type=int, metavar="K", help="only this one, counted from 0")
    add("--fault", action="append", choices=sorted(FAULTS), help="sessions of this fault (twice: of a pair)")
    add("--kept", action="store_true", help="the sessions in which something was once found")
    add("--side-by-side", type=int, metavar="N", help="sessions at a time (one for each core)")
    add("--keep", action="store_true", help="with --session: keep its folder")
    return parser


if __name__ == "__main__":
    sys.exit(main())
