"""The facts of a box of plates, and of a holder that plates are loaded into.

The subject is the box's or the holder's own id; as in `firmware_py.facts.events.run`, a class that has been
released is never changed. Where a plate is stands in the plate's own events only: so the books of two
benches that used the same holder can still be brought together.
"""

from __future__ import annotations

from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.facts import quantities as q
from firmware_py.facts.events.event import Event


class BoxEntered(Event, frozen=True, kw_only=True, tag="BoxEntered"):
    """A box of plates was entered under a name that no other box in use has.

    ``size`` is that of `craft.plate_sizes`; ``emulsion`` the name that the user's safelight tests go by;
    ``speed_index`` the N of "f/16 at 1/N s in bright sun", None where nobody knows it; ``opened_utc``
    (ISO 8601) when the box was opened, empty where it was not yet, or nobody knows.
    """

    name: str
    size: str
    emulsion: str
    sensitivity: Sensitivity | None
    speed_index: q.Index | None
    batch: str
    opened_utc: str
    rehearsal: bool

    def __post_init__(self) -> None:
        """Refuse a moment that is none."""
        q.require_moment_or_none(self.opened_utc, "opened_utc")


class BoxDescribed(Event, frozen=True, kw_only=True, tag="BoxDescribed"):
    """What the box is was put right: all of it, as in `BoxEntered`."""

    size: str
    emulsion: str
    sensitivity: Sensitivity | None
    speed_index: q.Index | None
    batch: str
    opened_utc: str

    def __post_init__(self) -> None:
        """Refuse a moment that is none."""
        q.require_moment_or_none(self.opened_utc, "opened_utc")


class BoxFinished(Event, frozen=True, kw_only=True, tag="BoxFinished"):
    """No plate will be taken from the box any more."""

    why: str


class HolderEntered(Event, frozen=True, kw_only=True, tag="HolderEntered"):
    """A plate holder was entered: ``name`` 3 with the ``sides`` A and B has the sides 3A and 3B."""

    name: str
    sides: tuple[str, ...]
    size: str
    rehearsal: bool


class HolderSetAside(Event, frozen=True, kw_only=True, tag="HolderSetAside"):
    """The holder is in use no more: it leaks light, or is gone."""

    why: str


AnyBoxEvent = BoxEntered | BoxDescribed | BoxFinished | HolderEntered | HolderSetAside
