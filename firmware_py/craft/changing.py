"""Whether a box became another emulsion under the old name: plates that the earlier ones do not predict."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.emulsion import Prior
from firmware_py.craft.least_squares import fit
from firmware_py.craft.plate_facts import PlateFacts
from firmware_py.craft.sampling import Posterior, Sample, posterior

# The chance of a change before any one plate, before anything speaks for it: own.
SELDOM = 0.02
# How many of the last plates may be of the new kind; with fewer plates in all than these no change is sought.
SINCE = (1, 2, 3, 5, 8, 12, 16)
FEWEST = 3
# One box is questioned when it leaves over more than this part of what chance alone would: own.
LEFT_OVER, MUCH_LEFT_OVER = 0.45, 0.9
QUICK = 12  # plates, up to which it is quick to look closely: own
NEGLIGIBLE = 0.05


@dataclass(frozen=True, slots=True)
class Change:
    """That the box changed before its last ``plates``, and how likely: ``chance`` 0 to 1. Source: own."""

    plates: int
    chance: float


def allow_for_change(
    facts: Sequence[PlateFacts], prior: Prior, whole: Posterior
) -> tuple[Posterior, Change | None]:
    """Return the posterior with a possible change of the box counted in, and the change, None for none.

    The plates since the change are weighed alone; both beliefs are mixed by how likely the change is.
    Source: Bayes' rule on the evidence of the two stories; the chance of a change is own.
    """
    since = _suspect(facts, prior)
    if since is None:
        return whole, None
    old, new = posterior(facts[:-since], prior), posterior(facts[-since:], prior)
    ln_odds = old.ln_evidence + new.ln_evidence - whole.ln_evidence + math.log(SELDOM)
    chance = 1 / (1 + math.exp(-max(-50.0, min(50.0, ln_odds))))
    if chance < NEGLIGIBLE:
        return whole, None
    samples = tuple(Sample(one.theta, one.weight * (1 - chance)) for one in whole.samples)
    samples += tuple(Sample(one.theta, one.weight * chance) for one in new.samples)
    effective = 1 / ((1 - chance) ** 2 / whole.effective + chance**2 / new.effective)
    return Posterior(samples, effective, whole.ln_evidence), Change(since, chance)


def _suspect(facts: Sequence[PlateFacts], prior: Prior) -> int | None:
    """Return how many of the last plates are best taken as another box's, None where one box fits all.

    By least squares, which are quick: first whether one box leaves too much over, then where to part it.
    """
    if len(facts) <= FEWEST:
        return None
    one = fit(facts, prior)
    if one.cost < (LEFT_OVER if len(facts) <= QUICK else MUCH_LEFT_OVER) * one.rows:
        return None
    parted = [
        (fit(facts[:-since], prior).ln_evidence + fit(facts[-since:], prior).ln_evidence, since)
        for since in SINCE
        if since < len(facts)
    ]
    best, since = max(parted)
    return since if best + math.log(SELDOM) > one.ln_evidence - 1 else None
