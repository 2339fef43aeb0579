"""Each relay clicked by its name, with the person's yes; swapped ones are put right in the file."""

from __future__ import annotations

from firmware_py.craft.refusal import Refused
from firmware_py.service.commissioning.person import ask_word, ask_yes, ready
from firmware_py.service.commissioning.session import Session
from firmware_py.settings import RelayName

CLICKS, CLICK_S = 3, 0.5
LAMP: RelayName = "printing-lamp"
HEATER: RelayName = "heater"
CAUTION = (
    "Relays switch what hangs on them. No plate and no paper may lie open now. Keep out of the mains "
    "side: what is wired there is a qualified person's work under the rules of the place, and is closed "
    "before you go on. Unplug any load that you would not want to see switched."
)
HEATER_CAUTION = (
    "The heater heats for a second and a half: it must lie in water, or be unplugged from its relay."
)


async def try_relays(session: Session) -> None:
    """Click every relay, and ask whether it was the right one."""
    session.begin("Relays")
    session.person.say(CAUTION)
    if not await ready(session.person, "Is everything put away and closed?"):
        session.note("Skipped: no relay was moved.")
        return
    for name, relay in session.draft.settings.relay.items():
        if relay.body == "gpio":
            await _try(session, name)


async def _try(session: Session, name: RelayName) -> None:
    if name == HEATER:
        session.person.say(HEATER_CAUTION)
    while True:
        if not await ready(session.person, f"The {_said(name)} will click {CLICKS} times. Ready?"):
            session.note(f"{_said(name)}: skipped.")
            return
        try:
            await _click(session, name)
        except Refused as refusal:
            session.note(f"{_said(name)}: {refusal.line}")
            return
        word = await ask_word(session.person, f"Was it the {_said(name)}?", ("yes", "no", "again"))
        if word != "again":
            break
    await _judge(session, name, word)


async def _click(session: Session, name: RelayName) -> None:
    for number in range(CLICKS):
        if name == LAMP:
            await session.expose(name, CLICK_S, f"click-{number}-{session.gear.clock.now_s():.3f}")
            await session.wait(CLICK_S)
        else:
            await session.switch_for(name, CLICK_S)


async def _judge(session: Session, name: RelayName, word: str | None) -> None:
    if word is None:
        session.note(f"{_said(name)}: clicked, not judged.")
    elif word == "no":
        await _look_for(session, name)
    elif await ask_yes(session.person, f"Is the {_said(name)} off now, at rest?") is False:
        _turn_over(session, name)
    else:
        session.note(f"{_said(name)}: clicked by its name, and off at rest.")


def _turn_over(session: Session, name: RelayName) -> None:
    now = session.draft.settings.relay[name].active_high
    session.put("relay", name, "active_high", not now)
    session.relays_changed = True
    session.note(
        f"{_said(name)}: on at rest. Its driver is the other way round: active_high = {str(not now).lower()} "
        "is written. A driver that is on while its line is low lights up whenever the board is off: change "
        "the driver instead if you can."
    )


async def _look_for(session: Session, name: RelayName) -> None:
    others = [other for other in session.draft.settings.relay if other != name]
    moved = await ask_word(session.person, "Which one moved?", (*others, "none"))
    if moved is None or moved == "none":
        session.note(f"{_said(name)}: did not move. Look at its pin, its supply and its driver.")
        return
    pins = {each: relay.pin for each, relay in session.draft.settings.relay.items() if each in {name, moved}}
    mine, theirs = pins[name], next(pin for each, pin in pins.items() if each == moved)
    session.note(f"{_said(name)}: its line moved the {_said(moved)}; their pins are exchanged.")
    # Both at once: half-way, both would be on one pin.
    session.draft.put_all(("relay", name, "pin", theirs), ("relay", moved, "pin", mine))
    session.relays_changed = True
    session.note("Run this again with the new file, to see that it is right.")


def _said(name: str) -> str:
    return name.replace("-", " ")
