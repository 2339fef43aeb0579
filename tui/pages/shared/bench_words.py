"""The bench around the trays in words: relays, banner, notices."""

from __future__ import annotations

from typing import TYPE_CHECKING

from firmware_py.facts.views.bench import BenchView, NoticeView
from firmware_py.service.client import LinkLost
from tui.pages.shared.time_words import gone_words, printable

if TYPE_CHECKING:
    from tui.moment import Moment


def relay_words(view: BenchView) -> str:
    """Return every relay and whether it is on; shape and word say it, not brightness."""
    return "   ".join(
        f"{'■' if relay.on else '·'} {printable(relay.name).replace('-', ' ')} {'ON' if relay.on else 'off'}"
        for relay in view.relays
    )


def banner_words(moment: Moment) -> str:
    """Return what stands in the banner, with what to do next; nothing if there is nothing to warn of."""
    said = [moment.dark] if moment.dark else []
    view = moment.view
    if moment.lost is not None:
        todo = "K starts it again" if moment.may_start else "It is looked for"
        said.append(f"NO LINE TO THE BENCH for {gone_words(moment.lost_for_s)}. {todo}")
    elif view is None:
        said.append("Looking for the bench")
    if view is not None and view.rehearsal:
        said.append("REHEARSAL" if said else "REHEARSAL: simulated bench, nothing here is real")
    return "   ".join(said)


def lost_words(lost: LinkLost, *, seen: bool) -> str:
    """Return why there is no line to the bench, and what the page shows meanwhile."""
    why = printable(lost.why)
    meanwhile = ". Times go on by its last word" if seen else ""
    return f"! {why[:1].upper()}{why[1:]}{meanwhile}"


def notice_words(notice: NoticeView, now_s: float) -> str:
    """Return a notice with how long it has stood."""
    sign = "! " if notice.trouble else ""
    return f"{sign}{printable(notice.words)} ({gone_words(now_s - notice.since_s)} ago)"


def notices_in_order(view: BenchView) -> list[NoticeView]:
    """Return the notices, troubles first, then the newest first."""
    return sorted(view.notices, key=lambda notice: (not notice.trouble, -notice.since_s))
