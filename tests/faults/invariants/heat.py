"""2. The heater: never on without a fresh, plausible reading."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from tests.faults.evidence import Span
from tests.faults.invariants.case import Case, Invariant, Verdict

# The design's own limits: a reading is old after 5 s; litres of water jump by no more than 1 K, or 0.25 K/s.
STALE_S = 5.0
JUMP_K = 1.0
LIMIT_degC = 30.0
COLDEST_degC, WARMEST_degC = 0.5, 50.0
# The wire is read once a second, and a word passes through three processes.
READ_S = 1.0
PASSED_ON_S = 0.4
PROBE = "jacket"


def never_by_an_old_reading(case: Case) -> Iterator[Verdict]:
    """While it is on, the last reading that the wire could give is no older than a reading may be."""
    for from_s, to_s in _silences(case):
        due_s = from_s + STALE_S + READ_S + PASSED_ON_S
        yield from _off_from(case, due_s, to_s, f"no reading since {from_s:.1f} s")


def never_by_an_impossible_one(case: Case) -> Iterator[Verdict]:
    """Soon after the wire jumped, or gave what is above the limit, it is off."""
    served = [each for each in case.evidence.served if each.probe == PROBE and each.degC is not None]
    for before, after in pairwise(served):
        assert before.degC is not None
        assert after.degC is not None
        wrong = after.degC > LIMIT_degC or not COLDEST_degC <= after.degC <= WARMEST_degC
        jumped = abs(after.degC - before.degC) > max(JUMP_K, 0.3 * (after.at_s - before.at_s))
        if not (wrong or jumped):
            continue
        until_s = next((later.at_s for later in served if later.at_s > after.at_s), case.evidence.over_s)
        if until_s - after.at_s > READ_S:  # else it may never have been read
            due_s = after.at_s + READ_S + PASSED_ON_S
            yield from _off_from(case, due_s, until_s, f"the wire gave {after.degC:.1f} degC")


def _silences(case: Case) -> Iterator[tuple[float, float]]:
    """From when to when the wire gave nothing that counts; a slow probe is silent for each conversion."""
    silent_s: float | None = None
    for each in case.evidence.served:
        if each.probe != PROBE:
            continue
        if each.degC is None and silent_s is None:
            silent_s = each.at_s
        elif each.degC is not None and silent_s is not None:
            yield silent_s, each.at_s
            silent_s = None
    if silent_s is not None:
        yield silent_s, case.evidence.over_s


def _off_from(case: Case, due_s: float, to_s: float, why: str) -> Iterator[Verdict]:
    due_s += case.stall(due_s - STALE_S, due_s)
    if to_s <= due_s:  # it spoke again before anybody had to mind
        return
    for span in case.relays["heater"]:
        yield Verdict(
            not _overlap(span, due_s, to_s), f"the heater was on {why}: {span.on_s:.2f}-{span.off_s:.2f}"
        )


def _overlap(span: Span, from_s: float, to_s: float) -> bool:
    return span.on_s < to_s and span.off_s > from_s


INVARIANTS = (
    Invariant(2, "no heat by an old reading", never_by_an_old_reading),
    Invariant(2, "no heat by an impossible one", never_by_an_impossible_one),
)
