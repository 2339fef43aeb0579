"""Whether a told doubt covers the truth as often as it claims: simulated developments with drawn errors.

    python -m tests.benchmarks.doubts --runs 500 --seed 7

Each run is one development on the bench itself. Drawn for it: how the bath drifts, what the thermometer is
off by (two standard deviations are the tolerance it tells), how wrong the coefficient is, how the law bends
outside the tested range, and whether and when the probe falls silent. Two doubts are held against the truth:
that of the moment the development will be due, told on the page at a drawn moment of it, and that of the
equivalent time in the book. Both claim about 19 times in 20.
"""

from __future__ import annotations

import argparse
import math
import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

from firmware_py.bench.show import show
from firmware_py.craft.rates import OUTSIDE_SLOPE_DOUBT, PRINTED_RATE_DOUBT
from firmware_py.craft.routine import Routine
from tests.bench.bench_at_hand import LN_PER_K, PLAIN, BenchAtHand

CLAIMED = 0.95
TARGET_S, REFERENCE_degC = 360.0, 20.0
LOW_degC, HIGH_degC = 8.0, 20.0  # Wall 1910
TOLERANCE_K = 0.5  # what the probe of the bench tells of itself
READ_EVERY_S = 2.0
LONGEST_S = 3600.0


@dataclass(frozen=True)
class Truth:
    """What nobody at the bench knows: the bath's course, and how the developer really goes."""

    start_degC: float
    room_degC: float
    constant_s: float
    offset_K: float
    slope_per_K: float
    bend_per_K: float
    silent_from_s: float
    looked_at_s: float

    def bath_degC(self, time_s: float) -> float:
        """Return the bath [degC] by Newton's law of cooling."""
        return self.room_degC + (self.start_degC - self.room_degC) * math.exp(-time_s / self.constant_s)

    def rate(self, time_s: float) -> float:
        """Return how fast the plate really develops, against the reference temperature."""
        bath_degC = self.bath_degC(time_s)
        beyond_K = bath_degC - min(max(bath_degC, LOW_degC), HIGH_degC)
        return math.exp(self.slope_per_K * (bath_degC - REFERENCE_degC) + self.bend_per_K * beyond_K)

    def equivalent_s(self, until_s: float) -> float:
        """Return the equivalent time [s] really done by then, by Simpson's rule."""
        pieces = 2 * max(8, int(until_s / 20))
        step_s = until_s / pieces
        inner = sum((4 if n % 2 else 2) * self.rate(n * step_s) for n in range(1, pieces))
        return step_s / 3 * (self.rate(0.0) + inner + self.rate(until_s))

    def due_s(self) -> float:
        """Return when the plate really has had what was wanted [s since its start]."""
        low_s, high_s = 0.0, LONGEST_S
        while high_s - low_s > 0.05:
            middle_s = (low_s + high_s) / 2
            low_s, high_s = (
                (low_s, middle_s) if self.equivalent_s(middle_s) >= TARGET_S else (middle_s, high_s)
            )
        return high_s


@dataclass(frozen=True)
class Played:
    """What was told of a development and what was so, in standard doubts: within 1 is covered."""

    due: float
    equivalent: float
    was_silent: bool
    was_outside: bool


def drawn(dice: random.Random) -> Truth:
    """Draw a truth; what the bench claims of its parts is two standard deviations of what is drawn."""
    slope = LN_PER_K * (1 + dice.gauss(0, PRINTED_RATE_DOUBT / 2))
    return Truth(
        start_degC=dice.uniform(13, 24),
        room_degC=dice.uniform(12, 24),
        constant_s=1800 * math.exp(dice.gauss(0, 0.5)),
        offset_K=dice.gauss(0, TOLERANCE_K / 2),
        slope_per_K=max(0.0, slope),
        bend_per_K=LN_PER_K * dice.gauss(0, OUTSIDE_SLOPE_DOUBT / 2),
        silent_from_s=dice.uniform(60, 300) if dice.random() < 0.5 else math.inf,
        looked_at_s=dice.uniform(20, 240),
    )


def play(truth: Truth, dice: random.Random) -> Played:
    """Play one development on the bench and hold both doubts against the truth."""
    at = BenchAtHand(_read(truth, 0.0, dice), routine=_routine())
    at.open_and_start()
    passed_s, told = 0.0, None
    while at.lane.is_developing:
        at.pass_s(READ_EVERY_S, READ_EVERY_S)
        passed_s += READ_EVERY_S
        silent = passed_s >= truth.silent_from_s
        at.bath_degC = None if silent else _read(truth, passed_s, dice)
        if told is None and passed_s >= truth.looked_at_s and at.lane.is_developing:
            view = show(at.bench).lanes[0]
            told = (view.due_s - view.started_s, view.doubt_s)  # type: ignore[operator] # both are told
    step = at.lane.record.development
    assert step is not None
    assert step.ended_s is not None
    lasted_s = step.ended_s - step.started_s
    assert told is not None
    due_s, doubt_s = told
    equivalent_doubt_s = step.equivalent_doubt.total_s
    return Played(
        due=abs(truth.due_s() - due_s) / max(doubt_s or 0.0, 1e-9),
        equivalent=abs(truth.equivalent_s(lasted_s) - step.equivalent_s) / max(equivalent_doubt_s, 1e-9),
        was_silent=truth.silent_from_s < lasted_s,
        was_outside=step.outside_K != 0.0,
    )


def played(runs: int, seed: int) -> list[Played]:
    """Play so many developments, the same for the same seed."""
    dice = random.Random(seed)
    return [play(drawn(dice), dice) for _ in range(runs)]


def covered(shares: Sequence[float]) -> float:
    """Return how often the truth lay within the told doubt."""
    return sum(share <= 1 for share in shares) / len(shares)


def main() -> None:
    """Play and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=500)
    parser.add_argument("--seed", type=int, default=7)
    args = parser.parse_args()
    came = played(args.runs, args.seed)
    print(f"{args.runs} developments, seed {args.seed}; claimed {100 * CLAIMED:.0f} %")
    groups = {
        "all": came,
        "probe silent": [one for one in came if one.was_silent],
        "probe read to the end": [one for one in came if not one.was_silent],
        "outside the tested range": [one for one in came if one.was_outside],
        "inside": [one for one in came if not one.was_outside],
    }
    for name, group in groups.items():
        if group:
            due = 100 * covered([one.due for one in group])
            book = 100 * covered([one.equivalent for one in group])
            print(f"  {name:<26} {len(group):4} runs: due {due:5.1f} %, equivalent time {book:5.1f} %")


def _read(truth: Truth, time_s: float, dice: random.Random) -> float:
    """Return what the probe tells [degC]: off by its offset, noisy, in steps of a sixteenth."""
    return round((truth.bath_degC(time_s) + truth.offset_K + dice.gauss(0, 0.03)) * 16) / 16


def _routine() -> Routine:
    develop = PLAIN.steps[0]
    assert develop.development is not None
    development = replace(
        develop.development,
        target_s=TARGET_S,
        low_degC=LOW_degC,
        high_degC=HIGH_degC,
        beyond="law",
        rate_doubt=PRINTED_RATE_DOUBT,
    )
    return replace(PLAIN, steps=(replace(develop, development=development), *PLAIN.steps[1:]))


if __name__ == "__main__":
    main()
