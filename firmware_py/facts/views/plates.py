"""What is seen of the book of plates: plain facts at the moment of the bench's view."""

from __future__ import annotations

from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.facts.events.life import ExposureNoted, Stage
from firmware_py.facts.views.fact import Fact


class BoxView(Fact, frozen=True, kw_only=True):
    """A box: how many plates lie in it unexposed, the next of them, and how many are elsewhere at hand.

    ``safe_s`` [s] is the safe time of its emulsion under the safelight, None without a test of the user's.
    """

    box_id: str
    name: str
    size: str
    emulsion: str
    sensitivity: Sensitivity | None
    speed_index: float | None
    batch: str
    opened_utc: str
    left: int
    next_plate: str
    elsewhere: int
    safe_s: float | None


class SideView(Fact, frozen=True, kw_only=True):
    """A side of a holder and the plate it holds since ``since_utc``, or since when it holds none.

    That is empty where nobody knows. ``noted`` says whether its exposure is written down.
    """

    name: str
    plate: str
    stage: Stage | None
    since_utc: str
    noted: bool


class HolderView(Fact, frozen=True, kw_only=True):
    """A holder with its sides."""

    holder_id: str
    name: str
    size: str
    sides: tuple[SideView, ...]


class LifeView(Fact, frozen=True, kw_only=True):
    """A plate out of its box and not yet filed; ``side`` is where it lies, empty outside a holder.

    ``tray`` is the one whose run it is in now, empty in none.
    """

    plate_id: str
    name: str
    box_id: str
    box: str
    stage: Stage
    since_utc: str
    side: str
    tray: str
    sensitivity: Sensitivity | None
    speed_index: float | None
    exposure: ExposureNoted | None


class PlatesView(Fact, frozen=True, kw_only=True):
    """The book of plates: boxes and holders in use, and the newest of the plates that are on their way.

    ``more`` is how many of these do not stand here.
    """

    boxes: tuple[BoxView, ...] = ()
    holders: tuple[HolderView, ...] = ()
    plates: tuple[LifeView, ...] = ()
    more: int = 0
