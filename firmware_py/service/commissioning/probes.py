"""Which thermometer is which, found by warming each in the hand; and what each is out by, found in ice."""

from __future__ import annotations

import re
from collections.abc import Mapping

from firmware_py.craft.calibration import ICE_TOLERANCE_K, ICE_POINT_degC, calibrated
from firmware_py.craft.refusal import Refused
from firmware_py.service.commissioning.gear import read_all
from firmware_py.service.commissioning.person import ask_read, ready
from firmware_py.service.commissioning.session import Session

# A probe in a hand has risen by so much, and by so much more than any other, in less than this time.
RISE_K, AHEAD_K, WITHIN_S = 1.5, 1.0, 90.0
LOOK_EVERY_S = 1.0
SETTLE_IN_ICE_S = 180.0
ICE_READINGS = 15
# An answer meant for another question is no bath.
NO_PLACES = {"ready", "yes", "no", "again", "none"}
PLACE = re.compile(r"tray [1-6]|jacket|room|(?!tray )[a-z][a-z0-9 -]{0,59}")

ICE_WORDS = (
    "Crush ice of clean water, fill a beaker or a vacuum flask with it, and add just so much cold water "
    "that it can be stirred. All probes into the middle of it, not touching the wall; stir, and wait "
    "three minutes."
)


async def identify(session: Session) -> None:
    """Let the person warm one probe after the other, and say where it lies."""
    session.begin("Thermometers: which is which")
    left = list(await read_all(session.gear))
    session.note(f"{len(left)} found: {', '.join(left) or 'none'}.")
    while left:
        # Read before the question: whoever answers it has warmed the probe for a while already.
        before = await read_all(session.gear)
        question = "Take one that is not named yet in the warm, dry hand. Have you got it?"
        if not await ready(session.person, question):
            session.note(f"Not identified: {', '.join(left)}.")
            return
        session.gear.person_does("warm a probe")
        found = await _warmed(session, before)
        if found is None:
            session.note("None of them warmed. Once more, with the whole hand round the sleeve.")
        elif found not in left:
            session.note(f"That is {found} again, which has its place already.")
        else:
            left.remove(found)
            await _place(session, found)


async def _warmed(session: Session, before: Mapping[str, float]) -> str | None:
    """Return the probe that rises away from the others since ``before`` [degC], None if none does."""
    deadline_s = session.gear.clock.now_s() + WITHIN_S
    while session.gear.clock.now_s() < deadline_s:
        await session.wait(LOOK_EVERY_S)
        now = await read_all(session.gear)
        rises = sorted(
            ((now[probe] - before[probe], probe) for probe in now if probe in before), reverse=True
        )
        if not rises:
            return None
        next_K = rises[1][0] if len(rises) > 1 else 0.0
        if rises[0][0] >= RISE_K and rises[0][0] - next_K >= AHEAD_K:
            return rises[0][1]
    return None


async def _place(session: Session, wire: str) -> None:
    place = await ask_read(
        session.person,
        f"{wire} warmed. Where does it lie? tray 1 to 6, jacket, room, or a bath's name",
        _read_place,
    )
    if place is None:
        session.note(f"{wire}: identified, not placed.")
        return
    sections = session.draft.settings.probe
    name = next((each for each, section in sections.items() if section.wire == wire), None)
    if name is None:
        taken = {each for each, section in sections.items() if section.wire is not None}
        name = next(n for n in (place, *(f"{place} {k}" for k in range(2, 99))) if n not in taken)
        table: dict[str, object] = {"serial": wire, "place": place}
        session.put("probe", name, table)
    else:
        session.put("probe", name, "place", place)
    session.note(f"{wire}: {place}, called {name!r}.")


def _read_place(text: str) -> str:
    tidy = " ".join(text.casefold().split())
    if not PLACE.fullmatch(tidy) or tidy in NO_PLACES:
        raise Refused(
            f"place {text.strip()[:40]!r}", allowed="tray 1 to tray 6, jacket, room, or a bath's name"
        )
    return tidy


async def hold_in_ice(session: Session) -> None:
    """Hold every probe in melting ice, and write what it is out by."""
    session.begin("Thermometers: the ice point")
    session.person.say(ICE_WORDS)
    if not await ready(session.person, "Are the probes in the ice?"):
        session.note("Skipped: no probe was held in ice.")
        return
    session.gear.person_does("probes in ice")
    session.person.say("Waiting three minutes, then reading for a quarter of a minute. Stir meanwhile.")
    await session.wait(SETTLE_IN_ICE_S)
    shown: dict[str, list[float]] = {}
    for _ in range(ICE_READINGS):
        for wire, bath_degC in (await read_all(session.gear)).items():
            shown.setdefault(wire, []).append(bath_degC)
        await session.wait(LOOK_EVERY_S)
    for name, section in session.draft.settings.probe.items():
        if section.wire is not None:
            _calibrate(session, name, shown.get(section.wire, []))


def _calibrate(session: Session, name: str, shown_degC: list[float]) -> None:
    try:
        found = calibrated(shown_degC, ICE_POINT_degC, ICE_TOLERANCE_K)
    except Refused as refusal:
        session.note(f"{name}: not calibrated: {refusal.line}")
        return
    session.put("probe", name, "offset", f"{found.offset_K:.4f} K")
    session.put("probe", name, "tolerance", f"{found.tolerance_at_K(20.0):.2f} K")
    session.note(
        f"{name}: shows {-found.offset_K:+.2f} degC in ice; {found.offset_K:+.2f} K is added, "
        f"good to {found.tolerance_at_K(20.0):.2f} K at 20 degC."
    )
