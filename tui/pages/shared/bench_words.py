"""The bench around the trays in words: relays, banner, notices."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING

from firmware_py.facts.views.bench import BenchView, NoticeView, RelayView
from firmware_py.service.client import LinkLost
from tui.pages.shared.time_words import gone_words, printable

if TYPE_CHECKING:
    from tui.moment import Moment


# A relay's sign and state by whether it is on; while the bench is disconnected nobody can know.
RELAY_STATES: Mapping[bool | None, tuple[str, str]] = MappingProxyType(
    {True: ("■", "ON"), False: ("·", "off"), None: ("?", "UNKNOWN")}
)


def relay_words(view: BenchView, *, lost: bool) -> str:
    """Return every relay and whether it is on; shape and word say it, not brightness."""
    return "   ".join(_relay(relay, lost=lost) for relay in view.relays)


def _relay(relay: RelayView, *, lost: bool) -> str:
    sign, state = relay_state(relay.on, lost=lost)
    return f"{sign} {printable(relay.name).replace('-', ' ')} {state}"


def relay_state(is_on: bool, *, lost: bool) -> tuple[str, str]:
    """Return the sign and the state of a relay; unknown while the bench is disconnected."""
    return RELAY_STATES[None if lost else is_on]


def room_light(moment: Moment) -> str:
    """Return whether white light may come on in the room: one answer, the same on every page."""
    view = moment.view
    if view is None or moment.lost is not None:
        return "WHITE LIGHT: UNKNOWN"
    numbers = sorted(lane.lane for lane in view.lanes if lane.is_open)
    if not numbers:
        return "White light: allowed"
    runs = f"run {numbers[0]} is" if len(numbers) == 1 else f"runs {', '.join(map(str, numbers))} are"
    return f"WHITE LIGHT: NOT YET, {runs} open"


def banner_row(moment: Moment, width: int) -> str:
    """Return the banner with the answer about white light at its end, as ``width`` takes them."""
    light = room_light(moment)
    for said in (banner_words(moment), banner_words(moment, brief=True)):
        if len(said) + len(light) + 2 <= width:
            return f"{said:<{width - len(light)}}{light}"
    return banner_words(moment, brief=True)


def banner_words(moment: Moment, *, brief: bool = False) -> str:
    """Return what stands in the banner, with what to do next; nothing if there is nothing to warn of."""
    said = [moment.dark] if moment.dark else []
    view = moment.view
    if moment.lost is not None:
        todo = "K restarts it" if moment.may_start else "Reconnecting"
        said.append(f"BENCH DISCONNECTED for {gone_words(moment.lost_for_s)}. {todo}")
    elif view is None:
        said.append("Connecting to the bench")
    if view is not None and view.rehearsal:
        said.append("REHEARSAL" if said or brief else "REHEARSAL: simulated bench, nothing here is real")
    return "   ".join(said)


def lost_words(lost: LinkLost, *, seen: bool) -> str:
    """Return why the bench is disconnected, and what the page shows meanwhile."""
    why = printable(lost.why)
    meanwhile = ". Times estimated" if seen else ""
    return f"! {why[:1].upper()}{why[1:]}{meanwhile}"


def notice_words(notice: NoticeView, now_s: float) -> str:
    """Return a notice with how long it has stood."""
    sign = "! " if notice.trouble else ""
    return f"{sign}{printable(notice.words)} ({gone_words(now_s - notice.since_s)} ago)"


def notices_in_order(view: BenchView) -> list[NoticeView]:
    """Return the notices, troubles first, then the newest first."""
    return sorted(view.notices, key=lambda notice: (not notice.trouble, -notice.since_s))
