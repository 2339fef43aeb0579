"""How long the book would develop the plate in the developer, by its box and its first appearance."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass

from firmware_py.craft.belief import LIGHT_DOUBT_STOPS, Advice, advise
from firmware_py.craft.refusal import Refused
from firmware_py.journal.box_advice import (
    UNKNOWN_LIGHT_DOUBT_STOPS,
    ExposedStops,
    belief_of_box,
    steady_bath_degC,
)
from firmware_py.journal.exposed import Exposures
from firmware_py.journal.outcome import RunOutcome, outcome
from firmware_py.journal.reading import entries_of
from firmware_py.journal.run_record import RunRecord


@dataclass(frozen=True, slots=True)
class BookTarget:
    """A developing time as equivalent time [s], with the range that is nearly as good.

    ``chance`` 0 to 1 that the negative fits; ``plates`` of the box that the book has learned from;
    ``appeared_s`` [s] the first appearance that is counted in, None before it.
    """

    equivalent_s: float
    low_s: float
    high_s: float
    chance: float
    plates: int
    appeared_s: float | None


def book_target(
    connection: sqlite3.Connection, run_id: str, exposed_stops: ExposedStops | None = None
) -> BookTarget | None:
    """Return how long to develop the plate of a run, None where no plate of its box was judged.

    The first appearance, once it is marked, tells of this plate's own light. Takes some tenths of a second
    for two dozen plates. Raises `Refused` for a run that is not in the book.
    """
    record = RunRecord.replay(entries_of(connection, run_id))
    came = outcome(record)
    if not came.box or came.reference_degC is None:
        return None
    try:
        belief, papers = belief_of_box(connection, came.box, came.developer, rehearsal=came.rehearsal)
    except Refused:  # no plate of the box was judged: the book has nothing to say
        return None
    longer = record.times_longer(record.development.step) if record.development else 1.0
    stops = (exposed_stops or Exposures(connection).exposed_stops)(run_id, came.plate)
    appeared_s = came.appeared_s / longer if came.appeared_s else None
    advice = advise(
        belief,
        papers,
        bath_degC=_bath_degC(came),
        light_doubt_stops=LIGHT_DOUBT_STOPS if stops is not None else UNKNOWN_LIGHT_DOUBT_STOPS,
        exposure_stops=stops or 0.0,
        appeared_s=appeared_s,
        appeared_degC=came.reference_degC,
    )
    return _as_equivalent(advice, longer, len(belief.evidence), appeared_s)


def _bath_degC(came: RunOutcome) -> float | None:
    """Return the bath as it was so far [degC], None where no temperature is known."""
    if came.bath_degC is None or not came.elapsed_s or not came.equivalent_s:
        return None
    return steady_bath_degC(came, came.elapsed_s, came.equivalent_s)


def _as_equivalent(advice: Advice, longer: float, plates: int, appeared_s: float | None) -> BookTarget:
    """Return the advice in equivalent time of the bath as it is: a used one needs ``longer`` times more."""
    times = longer * advice.equivalent_s / advice.developed_s
    return BookTarget(
        equivalent_s=times * advice.developed_s,
        low_s=times * advice.developed_low_s,
        high_s=times * advice.developed_high_s,
        chance=advice.chance,
        plates=plates,
        appeared_s=appeared_s,
    )
