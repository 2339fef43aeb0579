"""Whom the foot serves, in words that leave no doubt."""

from __future__ import annotations

from typing import TYPE_CHECKING

from tui.pages.shared.time_words import printable

if TYPE_CHECKING:
    from tui.moment import Moment


def is_foot_here(moment: Moment) -> bool:
    """Return whether a foot that comes down now acts on this page."""
    return moment.view is not None and moment.view.foot_serves == moment.page


def foot_place(moment: Moment, here: str) -> str:
    """Return where the foot is, for the head of the page called ``here``."""
    if moment.view is None:
        return ""
    return "FOOT HERE" if moment.view.foot_serves == here else f"foot: {moment.view.foot_serves.upper()}"


def foot_elsewhere(moment: Moment) -> tuple[str, str]:
    """Return what a foot does on the page it serves, and how to get it here; nothing where it is here."""
    if moment.view is None or is_foot_here(moment):
        return "", ""
    place = moment.view.foot_serves.upper()
    does = f": {printable(moment.view.foot)}" if moment.view.foot else ""
    return f"FOOT SERVES THE {place}{does}", "G: get it to this page"
