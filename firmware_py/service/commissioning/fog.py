"""The coin test of safelight and screen: explained, and its result entered."""

from __future__ import annotations

from firmware_py.craft.refusal import Refused
from firmware_py.craft.safelight import safe_s
from firmware_py.craft.saying import say_time
from firmware_py.craft.units import read_time_s
from firmware_py.service.commissioning.person import ask_read, ask_yes, ready
from firmware_py.service.commissioning.session import Session

WORDS = (
    "Light that fogs shows first on an emulsion that has had a little light already. So, in the dark, "
    "give a plate (or a strip of the very emulsion) a faint even grey under the lamp. Then, at the "
    "place and distance where plates lie open, under this light alone, lay a coin on it; after a "
    "quarter of a minute another, and so on, each time doubling the time, up to as long as a plate ever "
    "lies open, and as long again. Develop it in the dark. Where a coin cannot be told from its "
    "surroundings, the light did nothing in the time after that coin was laid."
)
LIGHTS = (("safelight", "the safelight"), ("screen", "the screen, with the page on it, alone"))


async def test_fog(session: Session) -> None:
    """Explain the test, and take in what came of it, for the safelight and for the screen."""
    session.begin("Fog by safelight and screen (the coin test)")
    session.person.say(WORDS)
    if not await ready(session.person, "This needs a dark hour and a plate. Is a result at hand?"):
        session.note("Skipped. Until it is made, no light is known to be safe.")
        return
    for light, words in LIGHTS:
        await _enter(session, light, words)


async def _enter(session: Session, light: str, words: str) -> None:
    if not await ask_yes(session.person, f"Enter the test of {words}?"):
        session.note(f"{light}: not entered.")
        return
    emulsion = await ask_read(session.person, "Name of the emulsion", _read_name)
    no_change_s = await ask_read(
        session.person, "Longest time that changed nothing, such as 4 min", _read_time
    )
    detectable_s = await ask_read(session.person, "Shortest time that just did, such as 8 min", _read_time)
    if emulsion is None or no_change_s is None or detectable_s is None:
        session.note(f"{light}: not entered.")
        return
    try:
        safe = say_time(safe_s(no_change_s, detectable_s))
    except Refused as refusal:
        session.note(f"{light}: {refusal.line}")
        return
    session.note(f"{light}, {emulsion}: safe for {safe}.")
    if light == "safelight":
        table = {"emulsion": emulsion, "no_change": f"{no_change_s:g} s", "detectable": f"{detectable_s:g} s"}
        session.put("safelight-test", f"{emulsion} at commissioning"[:60], table)


def _read_name(text: str) -> str:
    tidy = " ".join(text.split())
    if not 1 <= len(tidy) <= 40 or not tidy.isprintable():
        raise Refused("a name of that length", where="emulsion", allowed="1 to 40 signs")
    return tidy


def _read_time(text: str) -> float:
    time_s = read_time_s(text, where="time")
    if not 1.0 <= time_s <= 86400.0:
        raise Refused(f"{time_s:g} s", where="time", allowed="1 s to 24 h")
    return time_s
