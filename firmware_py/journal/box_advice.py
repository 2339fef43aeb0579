"""What the book advises for the next plate of a box: its judged plates gathered for the craft to reckon."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from firmware_py.craft.next_plate import EYE_DOUBT_SHARE, NextPlate, Tried, next_plate
from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.verdict import hints
from firmware_py.facts.events.verdict import PlateJudged
from firmware_py.journal.exposed import Exposures
from firmware_py.journal.outcome import RunOutcome, outcome
from firmware_py.journal.reading import entries_of
from firmware_py.journal.run_record import RunRecord

# A box holds a dozen; two dozen of one batch tell all there is to tell.
MOST = 24
# The middle of grade 2 (0.95 to 1.15), where no print says of which paper. ANSI PH2.2-1966, from memory.
USUAL_RANGE = 1.05

# Returns how much more exposure a plate of a run got than daylight said [stops], None where nobody knows.
ExposedStops = Callable[[str, str], float | None]


@dataclass(frozen=True, slots=True)
class BoxAdvice:
    """Advice for a box in a developer; ``tried`` are the plates it rests on, oldest first.

    ``wanted_range`` is that of the paper printed on last, or the usual one; ``left_out`` counts judged plates
    that were developed by another reference temperature, or so far outside the tested range of their
    developer that their time is known worse than an eye judges; ``hints`` are for the last plate's
    fog and faults.
    """

    box: str
    developer: str
    rehearsal: bool
    advice: NextPlate
    tried: tuple[Tried, ...]
    reference_degC: float
    wanted_range: float
    left_out: int
    hints: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Judged:
    run_id: str
    tried: Tried
    verdict: PlateJudged
    reference_degC: float
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
    What each plate got beside daylight is what its note tells, unless ``exposed_stops`` does. Raises
    `Refused` where no plate of it was judged.
    """
    exposed_stops = exposed_stops or Exposures(connection).exposed_stops
    which = _meant(connection, box, developer, rehearsal)
    box, developer, is_rehearsal = which
    found = list(_judged(connection, which, exposed_stops))[::-1]
    if not found:
        raise Refused("no judged plate of it has a developing time", where=f"box {shown(box)}")
    tested = [one for one in found if not one.is_untested]
    if not tested:
        raise Refused(
            "every judged plate of it was developed OUTSIDE THE TESTED RANGE of its developer",
            where=f"box {shown(box)}",
            allowed="a plate developed inside it",
        )
    reference_degC = tested[-1].reference_degC
    counted = [one for one in tested if one.reference_degC == reference_degC]
    wanted_range = _paper_range(connection, [one.run_id for one in counted])
    tried = tuple(one.tried for one in counted)
    last = counted[-1].verdict
    return BoxAdvice(
        box=box,
        developer=developer,
        rehearsal=is_rehearsal,
        advice=next_plate(tried, wanted_range=wanted_range),
        tried=tried,
        reference_degC=reference_degC,
        wanted_range=wanted_range,
        left_out=len(found) - len(counted),
        hints=hints(last.fog, last.faults),
    )


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
    for (run_id,) in connection.execute(query, (*which, MOST)).fetchall():
        try:
            record = RunRecord.replay(entries_of(connection, run_id))
            came = outcome(record)
        except Refused:  # a damaged run says nothing; `verify` names it
            continue
        if came.equivalent_s is None or came.reference_degC is None:
            continue
        # A used bath was given more time for the same: what a fresh one would have needed is what counts.
        longer = record.times_longer(record.development.step) if record.development else 1.0
        seen_s = came.appeared_s / longer if came.appeared_s is not None else None
        for plate, verdict in sorted(record.verdicts.items(), reverse=True):
            exposed = exposed_stops(run_id, plate)
            tried = _tried(verdict, came.equivalent_s / longer, seen_s, exposed)
            yield _Judged(run_id, tried, verdict, came.reference_degC, is_untested(came))


def is_untested(came: RunOutcome) -> bool:
    """Return whether a run is left out of advice: outside the tested range, and its time known too badly.

    That is worse than `EYE_DOUBT_SHARE` of it, by the doubt that its outcome tells. Own rule, no source.
    """
    if came.outside is None or came.equivalent_s is None or came.equivalent_doubt_s is None:
        return False
    return came.equivalent_doubt_s > EYE_DOUBT_SHARE * came.equivalent_s


def _tried(
    verdict: PlateJudged, equivalent_s: float, appeared_s: float | None, exposed_stops: float | None
) -> Tried:
    low, high, fog = verdict.shadow_density, verdict.highlight_density, verdict.fog_density
    return Tried(
        plate=verdict.plate,
        equivalent_s=equivalent_s,
        contrast=verdict.contrast,
        density=verdict.density,
        appeared_s=appeared_s,
        gamma=verdict.gamma or None,
        density_range=high - low if low is not None and high is not None and high > low else None,
        shadow_over_fog=low - fog if low is not None and fog is not None else None,
        exposed_stops=exposed_stops,
    )


def _paper_range(connection: sqlite3.Connection, run_ids: Sequence[str]) -> float:
    """Return the log range of the paper that these plates were printed on last, or the usual one."""
    marks = ", ".join("?" * len(run_ids))
    query = (
        f"SELECT paper_log_range FROM print WHERE run_id IN ({marks}) "  # noqa: S608 - question marks
        "AND paper_log_range IS NOT NULL ORDER BY place DESC LIMIT 1"
    )
    found = connection.execute(query, tuple(run_ids)).fetchone()
    return float(found[0]) if found else USUAL_RANGE
