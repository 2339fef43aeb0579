"""What was wrong with a plate, as chances, and the one question that would tell two causes apart."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from firmware_py.craft.emulsion import LOG_OF_A_STOP, SHADOW_FROM_INERTIA, height
from firmware_py.craft.fitting import FIT_RANGE, LEAST_SHADOW
from firmware_py.craft.likelihood import at_lights, gamma_of
from firmware_py.craft.plate_facts import PlateFacts
from firmware_py.craft.sampling import Sample

CauseName = Literal[
    "under-exposed", "over-exposed", "under-developed", "over-developed", "fogged", "nothing wrong"
]
Question = Literal["shadow detail", "highlights blocked"]
QUESTIONS: tuple[Question, ...] = ("highlights blocked", "shadow detail")
# More shadow than this over fog is more exposure than any paper needs [density]: own.
MOST_SHADOW = 0.60
# A question is worth asking when its answer takes away so much of the doubt, in bits: own.
WORTH_ASKING = 0.08
SURE_ENOUGH = 0.85
# Where the exposure is right, for judging the development alone: stops over a need of just 0.10. Own.
RIGHT_STOPS = 1.0

State = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Cause:
    """A cause and its chance, 0 to 1; several can hold together, so the chances need not make 1."""

    name: CauseName
    chance: float


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """The causes with a chance of a tenth or more, likeliest first, and what to ask, None where nothing."""

    causes: tuple[Cause, ...]
    question: Question | None


def diagnose(facts: PlateFacts, samples: Sequence[Sample], fogged: float) -> Diagnosis:
    """Return what was probably wrong with a plate, by samples of the belief that counts it.

    ``fogged`` is the chance that fog spoiled it. Exposure is judged by the deepest shadow and by whether the
    highlight lies on the shoulder, development by the range that a right exposure would have had with it.
    Source: the diagnoses of Practical Photography, par. 299 and 323-325, put as chances; own.
    """
    states = _states(facts, samples)
    named: dict[CauseName, float] = {
        "under-exposed": _part(states, 0, -1),
        "over-exposed": _part(states, 0, 1),
        "under-developed": _part(states, 1, -1),
        "over-developed": _part(states, 1, 1),
        "fogged": fogged,
        "nothing wrong": states.get((0, 0), 0.0) * (1 - fogged),
    }
    causes = [Cause(name, chance) for name, chance in named.items() if chance >= 0.1]
    causes.sort(key=lambda cause: -cause.chance)
    return Diagnosis(tuple(causes), _question(facts, samples, states))


def _part(states: dict[State, float], place: int, way: int) -> float:
    return math.fsum(chance for state, chance in states.items() if state[place] == way)


def _states(facts: PlateFacts, samples: Sequence[Sample]) -> dict[State, float]:
    """Return the chance of each pair of what was wrong with exposure and development (-1, 0, 1)."""
    found: dict[State, float] = {}
    for sample in samples:
        theta = sample.theta
        gamma = gamma_of(facts, theta)
        nodes = at_lights(facts, theta, gamma)
        total = math.fsum(node[0] for node in nodes) or 1.0
        developed = _development(facts, theta, gamma)
        for likely, at, shadow, _ in nodes:
            state = (_exposure(at + facts.subject - theta[6], shadow), developed)
            found[state] = found.get(state, 0.0) + sample.weight * likely / total
    whole = math.fsum(found.values()) or 1.0
    return {state: chance / whole for state, chance in found.items()}


def _exposure(over_shoulder: float, shadow: float) -> int:
    if shadow < LEAST_SHADOW:
        return -1
    return 1 if over_shoulder > 0 or shadow > MOST_SHADOW else 0


def _development(facts: PlateFacts, theta: tuple[float, ...], gamma: float) -> int:
    at = SHADOW_FROM_INERTIA + LOG_OF_A_STOP * RIGHT_STOPS
    rise = height(at + facts.subject, theta[5], theta[6]) - height(at, theta[5], theta[6])
    off = gamma * rise - facts.paper
    return 0 if abs(off) <= FIT_RANGE else 1 if off > 0 else -1


def _question(facts: PlateFacts, samples: Sequence[Sample], states: dict[State, float]) -> Question | None:
    """Return the question whose answer would take away most of the doubt, None where none takes enough."""
    if facts.contrast is None and facts.weight is None:
        return None
    if max(states.values()) >= SURE_ENOUGH:
        return None
    gains = {question: _gain(facts, samples, states, question) for question in QUESTIONS}
    best = max(gains, key=lambda question: gains[question])
    return best if gains[best] >= WORTH_ASKING else None


def _gain(
    facts: PlateFacts, samples: Sequence[Sample], states: dict[State, float], question: Question
) -> float:
    """Return how many bits of doubt the answer to a question is expected to take away."""
    gain = _doubt(states)
    for answer in (True, False):
        asked = _with_answer(facts, question, answer)
        if asked is None:
            return 0.0
        answered, chance = _answered(asked, facts, samples)
        gain -= chance * _doubt(answered)
    return gain


def _with_answer(facts: PlateFacts, question: Question, answer: bool) -> PlateFacts | None:
    """Return a plate with a question answered, None where it was answered before."""
    plate = facts.evidence
    if question == "shadow detail":
        known, evidence = plate.shadow_detail, replace(plate, shadow_detail=answer)
    else:
        known, evidence = plate.highlights_blocked, replace(plate, highlights_blocked=answer)
    return replace(facts, evidence=evidence, is_plain=False) if known is None else None


def _answered(
    asked: PlateFacts, facts: PlateFacts, samples: Sequence[Sample]
) -> tuple[dict[State, float], float]:
    found: dict[State, float] = {}
    for sample in samples:
        theta = sample.theta
        gamma = gamma_of(facts, theta)
        before = math.fsum(node[0] for node in at_lights(facts, theta, gamma)) or 1.0
        developed = _development(facts, theta, gamma)
        for likely, at, shadow, _ in at_lights(asked, theta, gamma):
            state = (_exposure(at + facts.subject - theta[6], shadow), developed)
            found[state] = found.get(state, 0.0) + sample.weight * likely / before
    whole = math.fsum(found.values())
    return {state: chance / (whole or 1.0) for state, chance in found.items()}, whole


def _doubt(states: dict[State, float]) -> float:
    return -math.fsum(chance * math.log2(chance) for chance in states.values() if chance > 0)
