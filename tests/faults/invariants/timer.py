"""4. A development timer never stops, jumps back, or ends early; its page says what is wrong within 2 s."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from tests.faults.evidence import Seen, Struck
from tests.faults.eyes.book import developed
from tests.faults.invariants.case import Case, Invariant, Verdict
from tests.faults.kinds import FAULTS

SAYS_WITHIN_S = 2.0
# A view reckons on from the last reading with the temperature believed now; the next puts that right.
EARLY_S = 0.05
# From the moment at which it is up to the word that it is over: a turn of the bench.
LATE_S = 0.1
# Between two views on one start of the machine, the started moment of a step stays as it was.
SAME_S = 0.001


def never_jumps_back(case: Case) -> Iterator[Verdict]:
    """In the views of one step, its beginning stays, its equivalent time never falls, its clock goes on."""
    for steps in _steps_seen(case).values():
        for (before, was), (after, now) in pairwise(steps):
            if now["equivalent_s"] is None and _went_back(case, now["run_id"], before, after):
                continue  # the step before was gone back to between two looks: this one began anew
            moved_s = now["started_s"] - was["started_s"]
            yield Verdict(abs(moved_s) < SAME_S, f"the step's beginning moved by {moved_s:.3f} s")
            yield Verdict(
                after.bench["as_of_s"] >= before.bench["as_of_s"], "the clock of the view went back"
            )
            fell_s = (was["equivalent_s"] or 0.0) - (now["equivalent_s"] or 0.0)
            yield Verdict(fell_s < EARLY_S, f"the equivalent time fell by {fell_s:.3f} s")


def _went_back(case: Case, run_id: str, before: Seen, after: Seen) -> bool:
    """Whether a pull of this run was taken back between two looks, or just before: a view takes its way."""
    lines = case.book.subjects.get(run_id, [])
    moments = [case.at_s(line) for line in lines if line.kind == "PullTakenBack"]
    return any(before.at_s - SAYS_WITHIN_S <= moment_s <= after.at_s for moment_s in moments)


def never_stops(case: Case) -> Iterator[Verdict]:
    """While it runs in one controller, the equivalent time of a view grows as its own rate says."""
    for steps in _steps_seen(case).values():
        for (before, was), (after, now) in pairwise(steps):
            if was["state"] != "running" or not was["rate"] or was["equivalent_s"] is None:
                continue
            lasted_s = after.bench["as_of_s"] - before.bench["as_of_s"]
            grew_s = (now["equivalent_s"] or 0.0) - was["equivalent_s"]
            expected_s = lasted_s * was["rate"]
            yield Verdict(grew_s >= 0.5 * expected_s - EARLY_S, f"grew by {grew_s:.3f} s in {lasted_s:.3f} s")


def never_ends_early_or_late(case: Case) -> Iterator[Verdict]:
    """One that ended by its time did so when its readings, integrated anew, had reached what was wanted."""
    for lines in case.book.beginning_with("RunOpened"):
        for each in developed(lines):
            if each.ended != "time":
                continue
            # A plate that was back in its bath only when its time was over is due at once.
            off_s = each.equivalent_s - each.target_s
            late_s = each.equivalent_s - max(each.target_s, each.back_at_s)
            yield Verdict(off_s >= -EARLY_S, f"ended {-off_s:.3f} s early, by its own readings")
            if not case.evidence.frozen and all(line.kind != "RunResumed" for line in lines):
                may_s = LATE_S + case.stall(case.at_s(lines[0]), case.at_s(lines[-1]))
                yield Verdict(late_s <= may_s, f"ended {late_s:.3f} s late, by its own readings")


def says_what_is_wrong(case: Case) -> Iterator[Verdict]:
    """Where a plate develops, the page shows the fault's words within 2 s of the bench's knowing."""
    for struck in case.evidence.struck:
        says = FAULTS[struck.fault].says
        known_s = struck.at_s + FAULTS[struck.fault].known_after_s
        by_s = known_s + SAYS_WITHIN_S
        by_s += case.stall(struck.at_s, by_s)
        if not says or struck.over_s < by_s or not _looked_on(case, struck.at_s, by_s):
            continue
        said = [s for s in case.evidence.shown if s.at_s <= by_s and re.search(says, s.text)]
        yield Verdict(
            any(s.at_s >= struck.at_s for s in said), f"{struck.fault}: the page said nothing of it"
        )


def _looked_on(case: Case, from_s: float, to_s: float) -> bool:
    """Whether the page of a developing plate stood on the terminal all that time, and nothing else struck."""
    if any(other.at_s < to_s and other.over_s > from_s for other in _others(case, from_s)):
        return False
    before = [shown for shown in case.evidence.shown if shown.at_s <= from_s]
    if not before or not before[-1].page_is_up or "TRAYS" not in before[-1].text:
        return False
    views = [seen for seen in case.evidence.seen if seen.at_s <= from_s]
    return bool(views) and any(lane["state"] == "running" for lane in views[-1].bench["lanes"])


def _others(case: Case, at_s: float) -> list[Struck]:
    return [struck for struck in case.evidence.struck if struck.at_s != at_s]


def _steps_seen(case: Case) -> dict[tuple[Any, ...], list[tuple[Seen, dict[str, Any]]]]:
    """The views of each development, by machine start, controller's session, run and step.

    A pull that was taken back leads back to the same development; what follows it is then begun anew.
    """
    found: dict[tuple[Any, ...], list[tuple[Seen, dict[str, Any]]]] = defaultdict(list)
    backs: dict[str, list[int]] = defaultdict(list)
    latest: dict[str, int] = {}
    for seen in case.evidence.seen:
        for lane in seen.bench["lanes"]:
            run_id, step = lane["run_id"], lane["step"]
            if step < latest.get(run_id, 0):
                backs[run_id].append(step)
            latest[run_id] = step
            if lane["state"] in {"running", "due"} and lane["started_s"] is not None:
                begun = sum(to < step for to in backs[run_id])
                found[seen.machine, run_id, step, begun].append((seen, lane))
    return found


INVARIANTS = (
    Invariant(4, "no timer jumps back", never_jumps_back),
    Invariant(4, "no timer stops", never_stops),
    Invariant(4, "no timer ends early, or late", never_ends_early_or_late),
    Invariant(4, "the page says what is wrong within 2 s", says_what_is_wrong),
)
