"""What the book advises for the next plate of a box: its judged plates gathered for the craft to reckon."""

from __future__ import annotations

import math
import sqlite3
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from firmware_py.craft.belief import (
    LIGHT_DOUBT_STOPS,
    MOST_PLATES,
    Advice,
    Belief,
    Cause,
    Change,
    Known,
    PlateEvidence,
    Prior,
    Question,
    advise,
    believe,
)
from firmware_py.craft.fogging import FogBelief
from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.verdict import Contrast, Density, hints
from firmware_py.facts.events.verdict import PlateJudged
from firmware_py.journal.exposed import Exposures
from firmware_py.journal.outcome import RunOutcome, outcome
from firmware_py.journal.reading import entries_of
from firmware_py.journal.run_record import RunRecord

# Of a plate whose exposure was not noted, it is taken as calculated, give or take so many stops: own.
UNKNOWN_LIGHT_DOUBT_STOPS = 1.2
# How far a plate judged by eye may mislead of its time: own estimate, no source.
EYE_DOUBT_SHARE = 0.15
# The middle of grade 2 (0.95 to 1.15), where no print says of which paper. ANSI PH2.2-1966, from memory.
USUAL_RANGE = 1.05

# Returns how much more exposure a plate of a run got than daylight said [stops], None where nobody knows.
ExposedStops = Callable[[str, str], float | None]


@dataclass(frozen=True, slots=True)
class Correction:
    """How much more exposure than calculated a box needs, and its doubt [stops]; from how many ``plates``."""

    stops: float
    doubt_stops: float
    plates: int


@dataclass(frozen=True, slots=True)
class BoxBelief:
    """What is believed of a box in its developer, as `craft.belief.Belief` says it.

    ``index`` is the exposure index that its speed amounts to, None where none is printed on it.
    """

    index: float | None
    speed_stops: Known
    gamma_inf: Known
    k_per_min: Known
    times_per_10K: Known
    fog: FogBelief
    change: Change | None


@dataclass(frozen=True, slots=True)
class PlateTaught:
    """A judged plate, what it was given, and what was probably wrong with it; what is unknown is None.

    ``equivalent_s`` [s] in a fresh bath at the reference temperature.
    """

    plate: str
    equivalent_s: float
    contrast: Contrast
    density: Density
    exposed_stops: float | None
    causes: tuple[Cause, ...]


@dataclass(frozen=True, slots=True)
class BoxAdvice:
    """Advice for a box in a developer; ``plates`` are those it rests on, oldest first.

    ``papers`` are the log ranges of the papers that its plates were printed on, or the usual one; ``advice``
    is for a bath at ``reference_degC``; ``correction`` is None where no exposure beside daylight is known,
    and then the exposure counts from the last plate's own; ``question`` is what to look for on the last
    plate, ``hints`` are for its fog and faults; ``left_out``
    counts judged plates developed so far outside the tested range of their developer that their time is known
    worse than an eye judges.
    """

    box: str
    developer: str
    rehearsal: bool
    advice: Advice
    belief: BoxBelief
    plates: tuple[PlateTaught, ...]
    correction: Correction | None
    reference_degC: float
    papers: tuple[float, ...]
    left_out: int
    question: Question | None
    hints: tuple[str, ...]

    @property
    def more_than_last_stops(self) -> float:
        """Get how much more exposure than the last plate had the next one needs [stops]."""
        last = self.plates[-1].exposed_stops
        return self.advice.exposure_stops - (last or 0.0)


@dataclass(frozen=True, slots=True)
class _Judged:
    run_id: str
    evidence: PlateEvidence
    exposed_stops: float | None
    equivalent_s: float
    verdict: PlateJudged
    prior: Prior
    is_untested: bool


def advice_of_box(
    connection: sqlite3.Connection,
    box: str,
    developer: str = "",
    *,
    rehearsal: bool | None = None,
    exposed_stops: ExposedStops | None = None,
) -> BoxAdvice:
    """Return the advice for the next plate of ``box`` in ``developer`` (the one last used, if not said).

    Real plates count alone; where there are none, those of rehearsals, unless ``rehearsal`` says which.
    What each plate got beside daylight is what its note tells, unless ``exposed_stops`` does. Takes some
    tenths of a second for two dozen plates. Raises `Refused` where no plate of it was judged.
    """
    which = _meant(connection, box, developer, rehearsal)
    found = list(_judged(connection, which, exposed_stops or Exposures(connection).exposed_stops))[::-1]
    if not found:
        raise Refused("no judged plate of it has a developing time", where=f"box {shown(which[0])}")
    tested = [one for one in found if not one.is_untested]
    if not tested:
        raise Refused(
            "every judged plate of it was developed OUTSIDE THE TESTED RANGE of its developer",
            where=f"box {shown(which[0])}",
            allowed="a plate developed inside it",
        )
    prior = tested[-1].prior
    papers = _papers(connection, [one.run_id for one in tested])
    belief = believe([one.evidence for one in tested], prior)
    advice = advise(belief, papers)
    known = [one for one in tested if one.exposed_stops is not None]
    last = tested[-1].verdict
    return BoxAdvice(
        *which,
        advice=advice,
        belief=_believed(belief, _index(connection, which[0])),
        plates=_taught(belief, tested[-len(belief.evidence) :]),
        correction=Correction(advice.exposure_stops, belief.speed_stops.doubt, len(known)) if known else None,
        reference_degC=prior.reference_degC,
        papers=papers,
        left_out=len(found) - len(tested),
        question=belief.diagnosis().question,
        hints=hints(last.fog, last.faults),
    )


def belief_of_box(
    connection: sqlite3.Connection, box: str, developer: str, *, rehearsal: bool
) -> tuple[Belief, tuple[float, ...]]:
    """Return what is believed of a box in a developer, and the log ranges of its papers.

    Raises `Refused` where no plate of it was judged.
    """
    which = _meant(connection, box, developer, rehearsal)
    found = list(_judged(connection, which, Exposures(connection).exposed_stops))[::-1]
    tested = [one for one in found if not one.is_untested]
    if not tested:
        raise Refused("no plate of it can be counted", where=f"box {shown(box)}")
    papers = _papers(connection, [one.run_id for one in tested])
    return believe([one.evidence for one in tested], tested[-1].prior), papers


def _believed(belief: Belief, index: float | None) -> BoxBelief:
    return BoxBelief(
        index=None if index is None else index * 2**belief.speed_stops.value,
        speed_stops=belief.speed_stops,
        gamma_inf=belief.gamma_inf,
        k_per_min=belief.k_per_min,
        times_per_10K=belief.times_per_10K,
        fog=belief.fog,
        change=belief.change,
    )


def _taught(belief: Belief, found: Sequence[_Judged]) -> tuple[PlateTaught, ...]:
    return tuple(
        PlateTaught(
            plate=one.verdict.plate,
            equivalent_s=one.equivalent_s,
            contrast=one.verdict.contrast,
            density=one.verdict.density,
            exposed_stops=one.exposed_stops,
            causes=belief.diagnosis(place).causes,
        )
        for place, one in enumerate(found)
    )


def _index(connection: sqlite3.Connection, box: str) -> float | None:
    query = "SELECT speed_index FROM box WHERE name = ? COLLATE NOCASE ORDER BY place DESC LIMIT 1"
    found = connection.execute(query, (box,)).fetchone()
    return None if found is None or not found[0] else float(found[0])


def judged_boxes(connection: sqlite3.Connection) -> list[str]:
    """Return the names of the boxes with judged plates, the one used last first."""
    query = (
        "SELECT box FROM run WHERE judged > 0 AND box <> '' GROUP BY box ORDER BY max(place) DESC LIMIT 50"
    )
    return [str(box) for (box,) in connection.execute(query)]


Which = tuple[str, str, bool]


def _meant(connection: sqlite3.Connection, box: str, developer: str, rehearsal: bool | None) -> Which:
    """Return the box and the developer that are meant, or refuse them with the boxes there are."""
    query = (
        "SELECT box, developer, rehearsal FROM run WHERE judged > 0 AND box = ? COLLATE NOCASE "
        "AND (? = '' OR developer = ? COLLATE NOCASE) AND (? IS NULL OR rehearsal = ?) "
        "ORDER BY rehearsal, place DESC LIMIT 1"
    )
    found = connection.execute(query, (box, developer, developer, rehearsal, rehearsal)).fetchone()
    if found is None:
        of = f"{shown(box)} in {shown(developer)}" if developer else shown(box)
        allowed = ", ".join(judged_boxes(connection)) or "a verdict first: embertray logbook verdict"
        raise Refused("no plate of it was judged yet", where=f"box {of}", allowed=allowed)
    return str(found[0]), str(found[1]), bool(found[2])


def _judged(connection: sqlite3.Connection, which: Which, exposed_stops: ExposedStops) -> Iterator[_Judged]:
    """Yield the judged plates, newest first."""
    query = (
        "SELECT run_id FROM run WHERE judged > 0 AND box = ? COLLATE NOCASE AND developer = ? "
        "AND rehearsal = ? AND equivalent_s > 0 AND ended <> 'abandoned' ORDER BY place DESC LIMIT ?"
    )
    for (run_id,) in connection.execute(query, (*which, MOST_PLATES)).fetchall():
        try:
            record = RunRecord.replay(entries_of(connection, run_id))
            came = outcome(record)
        except Refused:  # a damaged run says nothing; `verify` names it
            continue
        if came.equivalent_s is None or came.reference_degC is None:
            continue
        # A used bath was given more time for the same: what a fresh one would have needed is what counts.
        longer = record.times_longer(record.development.step) if record.development else 1.0
        prior = _prior(came, longer)
        for plate, verdict in sorted(record.verdicts.items(), reverse=True):
            stops = exposed_stops(run_id, plate)
            evidence = _evidence(verdict, came, longer, stops)
            yield _Judged(
                run_id, evidence, stops, came.equivalent_s / longer, verdict, prior, is_untested(came)
            )


def is_untested(came: RunOutcome) -> bool:
    """Return whether a run is left out of advice: outside the tested range, and its time known too badly.

    That is worse than an eye judges, by the doubt that its outcome tells. Own rule, no source.
    """
    if came.outside is None or came.equivalent_s is None or came.equivalent_doubt_s is None:
        return False
    return came.equivalent_doubt_s > EYE_DOUBT_SHARE * came.equivalent_s


def _prior(came: RunOutcome, longer: float) -> Prior:
    """Return what is thought of any box in this routine: its printed time and its coefficient."""
    assert came.reference_degC is not None
    usual_s = None if came.target_s is None else came.target_s / longer
    return Prior(usual_s=usual_s, reference_degC=came.reference_degC, ln_per_K=came.rate_per_K or 0.065)


def _evidence(
    verdict: PlateJudged, came: RunOutcome, longer: float, exposed_stops: float | None
) -> PlateEvidence:
    low, high, fog = verdict.shadow_density, verdict.highlight_density, verdict.fog_density
    developed_s, bath_degC = _development(came)
    return PlateEvidence(
        plate=verdict.plate,
        exposure_stops=0.0 if exposed_stops is None else exposed_stops,
        light_doubt_stops=LIGHT_DOUBT_STOPS if exposed_stops is not None else UNKNOWN_LIGHT_DOUBT_STOPS,
        developed_s=developed_s / longer,
        bath_degC=bath_degC,
        appeared_s=came.appeared_s / longer if came.appeared_s else None,
        appeared_degC=came.reference_degC,
        pulled_by_eye="inspection" in came.ends,
        contrast=verdict.contrast,
        density=verdict.density,
        fog=verdict.fog,
        shadow_detail=verdict.shadow_detail,
        highlights_blocked=verdict.highlights_blocked,
        shadow_density=low,
        highlight_density=high if low is None or (high or 9.0) > low else None,
        fog_density=fog,
        gamma=verdict.gamma or None,
    )


def _development(came: RunOutcome) -> tuple[float, float]:
    """Return the time in the developer [s] and the steady bath [degC] that would have done the same.

    Where no temperature is known, the equivalent time at the reference temperature.
    """
    assert came.equivalent_s is not None
    assert came.reference_degC is not None
    if came.bath_degC is None or not came.elapsed_s or not came.rate_per_K:
        return came.equivalent_s, came.reference_degC
    return came.elapsed_s, steady_bath_degC(came, came.elapsed_s, came.equivalent_s)


def steady_bath_degC(came: RunOutcome, elapsed_s: float, equivalent_s: float) -> float:
    """Return the steady bath [degC] that would have made ``equivalent_s`` [s] of ``elapsed_s`` [s].

    That is by the coefficient of the run's routine; the reference temperature where it has none.
    """
    assert came.reference_degC is not None
    if not came.rate_per_K:
        return came.reference_degC
    warmer_K = math.log(equivalent_s / elapsed_s) / came.rate_per_K
    return min(45.0, max(0.0, came.reference_degC + warmer_K))


def _papers(connection: sqlite3.Connection, run_ids: Sequence[str]) -> tuple[float, ...]:
    """Return the log range of the paper that these plates were printed on last, or the usual one."""
    marks = ", ".join("?" * len(run_ids))
    query = (
        f"SELECT paper_log_range FROM print WHERE run_id IN ({marks}) "  # noqa: S608 - question marks
        "AND paper_log_range IS NOT NULL ORDER BY place DESC LIMIT 1"
    )
    found = connection.execute(query, tuple(run_ids)).fetchone()
    return (float(found[0]),) if found and 0.3 <= found[0] <= 3 else (USUAL_RANGE,)
