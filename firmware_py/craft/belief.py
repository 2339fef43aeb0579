"""What the plates of a box teach, and what to do with the next one.

    >>> from firmware_py.craft.belief import PlateEvidence, Prior, advise, believe
    >>> first = PlateEvidence(
    ...     exposure_stops=0.0, developed_s=360.0, bath_degC=18.0, appeared_s=40.0,
    ...     contrast="flat", density="thin",
    ... )
    >>> belief = believe([first], Prior(usual_s=360.0, reference_degC=18.0))
    >>> advice = advise(belief, papers=(1.05,), bath_degC=18.0)
    >>> 0 <= advice.chance <= 1
    True

`believe` learns the hidden constants of a box from its plates; `advise` turns them into an exposure and a
developing time, with the chance that the negative fits. With ``exposure_stops`` given, only the development
is sought; with ``appeared_s`` as well, for a plate that is in the developer and has begun to show.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache

from firmware_py.craft.causes import Cause, Diagnosis, Question, diagnose
from firmware_py.craft.changing import Change, allow_for_change
from firmware_py.craft.deciding import Advice, decide
from firmware_py.craft.emulsion import USUAL_SUBJECT_LOG_RANGE, Emulsion, Prior, Theta
from firmware_py.craft.evidence import PlateEvidence
from firmware_py.craft.fitting import Conditions, thinned
from firmware_py.craft.fogging import FogBelief, believe_fog
from firmware_py.craft.learning import Learning
from firmware_py.craft.limits import within
from firmware_py.craft.plate_facts import (
    MEASURED_SUBJECT_DOUBT,
    SUBJECT_LOG_RANGE_DOUBT,
    USUAL_PAPER_LOG_RANGE,
    PlateFacts,
)
from firmware_py.craft.refusal import Refused
from firmware_py.craft.sampling import Posterior, posterior

__all__ = [
    "Advice",
    "Belief",
    "Cause",
    "Change",
    "Diagnosis",
    "Emulsion",
    "Known",
    "Learning",
    "PlateEvidence",
    "Prior",
    "Question",
    "advise",
    "believe",
]

MOST_PLATES = 24  # the last of a box that count: two dozen tell all there is to tell
LIGHT_DOUBT_STOPS = 0.7


@dataclass(frozen=True, slots=True)
class Known:
    """What is believed of one constant: its mean and one standard deviation, in the constant's own unit."""

    value: float
    doubt: float


@dataclass(frozen=True, slots=True)
class Belief:
    """What is believed of a box in a developer after its plates; made by `believe`.

    ``evidence`` are the plates that counted, oldest first. ``speed_stops`` [stops] faster than the box's
    index, ``gamma_inf``, ``k_per_min`` [1/min] at the reference temperature, ``times_per_10K`` the ratio of
    times for 10 K, and ``fog``; ``change``, that the box became another, None where nothing shows it;
    ``effective_samples`` tells how finely the belief is drawn (below 20: coarsely).
    Source: own; the law as in `emulsion`.
    """

    evidence: tuple[PlateEvidence, ...]
    prior: Prior
    speed_stops: Known
    gamma_inf: Known
    k_per_min: Known
    times_per_10K: Known
    fog: FogBelief
    change: Change | None
    effective_samples: float
    facts: tuple[PlateFacts, ...]
    posterior: Posterior

    def diagnosis(self, plate: int = -1) -> Diagnosis:
        """Return what was probably wrong with a plate (the last one; or by its place among ``evidence``).

        Refuses a belief without plates. Source: as `causes.diagnose`.
        """
        if not self.facts:
            raise Refused("no plate yet", where="diagnosis", allowed="a belief with at least one plate")
        samples = thinned(self.posterior.samples, 80)
        return diagnose(self.facts[plate], samples, self.fog.fogged(self.evidence[plate]))


def believe(evidence: Sequence[PlateEvidence], prior: Prior | None = None) -> Belief:
    """Return what the plates of a box, oldest first, say of its hidden constants.

    Only the last two dozen count. The same evidence always gives the same belief. No plate gives the prior.
    Takes some tenths of a second for two dozen plates: call it off an event loop.
    Source: Bayes' rule; see `sampling` for the method and `plate_facts` for the errors.
    """
    return _believe(tuple(evidence)[-MOST_PLATES:], prior or Prior())


@lru_cache(maxsize=32)
def _believe(evidence: tuple[PlateEvidence, ...], prior: Prior) -> Belief:
    facts = tuple(PlateFacts.of(plate, prior) for plate in evidence)
    found, change = allow_for_change(facts, prior, posterior(facts, prior))
    return Belief(
        evidence=evidence,
        prior=prior,
        speed_stops=_known(found, lambda theta: theta[0]),
        gamma_inf=_known(found, lambda theta: theta[1]),
        k_per_min=_known(found, lambda theta: theta[2]),
        times_per_10K=_known(found, lambda theta: math.exp(10 * theta[7])),
        fog=believe_fog(evidence),
        change=change,
        effective_samples=found.effective,
        facts=facts,
        posterior=found,
    )


def _known(found: Posterior, of: Callable[[Theta], float]) -> Known:
    values = [(of(sample.theta), sample.weight) for sample in found.samples]
    mean = math.fsum(value * weight for value, weight in values)
    return Known(mean, math.sqrt(math.fsum(weight * (value - mean) ** 2 for value, weight in values)))


def advise(
    belief: Belief,
    papers: Sequence[float] = (USUAL_PAPER_LOG_RANGE,),
    *,
    bath_degC: float | None = None,
    light_doubt_stops: float = LIGHT_DOUBT_STOPS,
    subject_log_range: float | None = None,
    exposure_stops: float | None = None,
    appeared_s: float | None = None,
    appeared_degC: float | None = None,
) -> Advice:
    """Return what to do with the next plate, for the best chance of a negative that fits one of the papers.

    Parameters: ``papers``, the log ranges of the papers at hand (0.3 to 3); ``bath_degC`` [degC], the mean
    of the bath that the plate will meet (None: the prior's reference temperature); ``light_doubt_stops``
    [stops], one standard deviation of the light as estimated; ``subject_log_range`` [log10] where measured.
    ``exposure_stops`` [stops over the calculated exposure] for a plate that is exposed already;
    ``appeared_s`` [s, by the clock] once it is in the developer and shows, ``appeared_degC`` [degC] the
    mean bath up to then. Refuses what cannot be, and an appearance without an exposure.
    Source: the chance by the belief's samples, as in `deciding`.
    """
    reference_degC = belief.prior.reference_degC
    if not papers:
        raise Refused("no paper", where="papers", allowed="one log range or more")
    for paper in papers:
        within("paper's log range", paper, 0.3, 3.0)
    if appeared_s is not None and exposure_stops is None:
        raise Refused("an appearance without an exposure", where="advice", allowed="exposure_stops too")
    bath = reference_degC if bath_degC is None else within("bath_degC", bath_degC, -5, 50)
    measured = subject_log_range is not None
    given = Conditions(
        papers=tuple(sorted(papers)),
        kelvin=bath - reference_degC,
        light_stops=within("light_doubt_stops", light_doubt_stops, 0.05, 5),
        subject=subject_log_range if subject_log_range is not None else USUAL_SUBJECT_LOG_RANGE,
        subject_doubt=MEASURED_SUBJECT_DOUBT if measured else SUBJECT_LOG_RANGE_DOUBT,
    )
    if exposure_stops is not None:
        within("exposure_stops", exposure_stops, -20, 20)
    warm = bath if appeared_degC is None else within("appeared_degC", appeared_degC, -5, 50)
    seen = (
        None if appeared_s is None else (within("appeared_s", appeared_s, 0.1, 86400), warm - reference_degC)
    )
    return decide(belief.posterior, belief.prior, given, exposure_stops, seen)
