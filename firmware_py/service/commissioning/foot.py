"""The foot switch: its bounce measured over ten presses, and a debounce proposed."""

from __future__ import annotations

from firmware_py.craft.bounce import bounce_of
from firmware_py.craft.refusal import Refused
from firmware_py.service.commissioning.person import ask_yes, ready
from firmware_py.service.commissioning.session import Session

PRESSES, WITHIN_S = 10, 60.0
# After so long without an edge the pressing is over.
QUIET_S = 4.0


async def measure_bounce(session: Session) -> None:
    """Let the person press, look at the raw edges, and write a debounce that takes the bounce out."""
    session.begin("Foot switch")
    if session.draft.settings.foot_switch.body == "none":
        session.note("None is set.")
        return
    question = f"Press the foot switch {PRESSES} times, at your own pace. Ready?"
    if not await ready(session.person, question):
        session.note("Skipped.")
        return
    try:
        bounce = bounce_of(await _edges(session))
    except Refused as refusal:
        session.note(f"Not measured: {refusal.line}")
        return
    proposed = f"{bounce.proposed_s * 1000:.0f} ms"
    session.note(
        f"{bounce.movements} movements of the contacts; the longest bounce was "
        f"{bounce.longest_s * 1000:.1f} ms. A debounce of {proposed} is proposed."
    )
    if bounce.is_worn:
        session.note(
            "That is more than a debounce takes out: the contacts are worn, or the cable picks something up."
        )
    if await ask_yes(session.person, f"Write debounce = {proposed}?"):
        session.put("foot-switch", "debounce", proposed)


async def _edges(session: Session) -> list[float]:
    clock = session.gear.clock
    with session.gear.raw_edges() as edges:
        session.gear.person_does("press the foot switch")
        deadline_s = clock.now_s() + WITHIN_S
        while clock.now_s() < deadline_s:
            await session.wait(0.25)
            if edges and clock.now_s() - edges[-1] > QUIET_S:
                break
        return sorted(edges)
