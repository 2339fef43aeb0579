"""The printing lamp: how exactly this board times it under load, and what each start of the lamp loses."""

from __future__ import annotations

import statistics
from collections.abc import Sequence

from firmware_py.craft.lamp import Lag, lag_found
from firmware_py.craft.refusal import Refused
from firmware_py.craft.units import read_number
from firmware_py.service.commissioning.person import ask_read, ready
from firmware_py.service.commissioning.session import Session

LAMP = "printing-lamp"
TRIALS_S = (0.2,) * 20 + (2.0,) * 3
PAUSE_S = 0.3
LONG_S, SHORT_S = 10.0, 1.0
MOST_STARTS = 16
LEAST_STARTS = 8

TIMING_WORDS = (
    "The lamp's line is switched 23 times while every core of the board is kept busy. No paper and no "
    "plate may lie open; unplug the lamp if it should not flash."
)
LAG_WORDS = (
    "A filament is slow to light and goes on glowing; what a start loses is found on paper, under the "
    "safelight. Lay a strip of paper under the lamp and cover the last third of it. It gets one "
    f"exposure of {LONG_S:g} s. Then the first two thirds are covered and the last third uncovered: it "
    f"gets {LEAST_STARTS} short ones of {SHORT_S:g} s, and after that one more at a time, each time with "
    f"a little more of it covered, up to {MOST_STARTS}. Developed, one of its steps is as dark as the "
    "long one: its number of starts tells the lag."
)


async def time_the_lamp(session: Session) -> None:
    """Measure at the line how long exposures really are, with the board under load."""
    session.begin("Timing of the lamp under load")
    if not _is_at_hand(session):
        return
    session.person.say(TIMING_WORDS)
    if not await ready(session.person, "Ready?"):
        session.note("Skipped.")
        return
    errors_us: list[float] = []
    try:
        with session.gear.load():
            for number, wanted_s in enumerate(TRIALS_S):
                ended = await session.expose(LAMP, wanted_s, f"trial-{number}")
                errors_us.append((ended.lasted_s - wanted_s) * 1e6)
                await session.wait(PAUSE_S)
    except Refused as refusal:
        session.note(f"Broken off: {refusal.line}")
        return
    _tell(session, errors_us)


def _is_at_hand(session: Session) -> bool:
    if LAMP not in session.draft.settings.relay:
        session.note("No printing lamp is set.")
    elif session.relays_changed:
        session.note("Left out: the relays were found otherwise than set. Run this step with the new file.")
    else:
        return True
    return False


def _tell(session: Session, errors_us: Sequence[float]) -> None:
    worst_us = max(errors_us, key=abs)
    session.note(
        f"{len(errors_us)} exposures: the on-time was out by {statistics.median(errors_us):+.0f} us in the "
        f"middle, {worst_us:+.0f} us at worst, by the switchboard's own look at its line."
    )
    said = session.gear.pins_said
    if said is not None:
        priority = "with" if said.realtime else "WITHOUT"
        memory = "locked" if said.locked else "NOT locked"
        session.note(f"Pins by {said.pins}, {priority} real-time priority, memory {memory}.")


async def test_the_lag(session: Session) -> None:
    """Make the exposures of the lag test, and take in what the paper says."""
    session.begin("The lamp's own lag")
    if not _is_at_hand(session):
        return
    session.person.say(LAG_WORDS)
    session.person.say("An LED has none worth the name: skip.")
    try:
        if not await _exposures(session):
            session.note("Skipped.")
            return
    except Refused as refusal:
        session.note(f"Broken off: {refusal.line}")
        return
    starts = await ask_read(
        session.person,
        "Fixed and looked at in white light: how many short starts match the long one?",
        _read_starts,
    )
    if starts is None:
        session.note("The strip was exposed; its result was not entered.")
        return
    _write_lag(session, lag_found(LONG_S, SHORT_S, starts))


async def _exposures(session: Session) -> bool:
    if not await ready(session.person, f"The strip lies there, its last third covered. One of {LONG_S:g} s?"):
        return False
    await session.expose(LAMP, LONG_S, "lag-long")
    if not await ready(
        session.person, f"The last third uncovered, the rest covered. {LEAST_STARTS} of {SHORT_S:g} s?"
    ):
        return False
    for number in range(LEAST_STARTS):
        await session.expose(LAMP, SHORT_S, f"lag-{number}")
        await session.wait(PAUSE_S)
    for number in range(LEAST_STARTS, MOST_STARTS):
        if not await ready(session.person, f"Covered a little further, for number {number + 1}?"):
            break
        await session.expose(LAMP, SHORT_S, f"lag-{number}")
    return True


def _read_starts(text: str) -> int:
    return round(read_number(text, where="starts", low=2, high=MOST_STARTS))


def _write_lag(session: Session, lag: Lag) -> None:
    session.put("lamp", "lag", f"{lag.lag_s * 1000:.0f} ms")
    session.put("lamp", "lag_doubt", f"{lag.uncertain_s * 1000:.0f} ms")
    session.put("lamp", "shortest", f"{lag.tried_from_s:g} s")
    told = "" if lag.told_from_none else "; the test cannot tell that from none"
    session.note(f"Each start loses {lag.lag_s * 1000:.0f} ± {lag.uncertain_s * 1000:.0f} ms{told}.")
