"""The facts of a plate's life: boxed, loaded, exposed, developing, fixed, washed, dry, filed, broken.

The subject is the plate's own id; as in `firmware_py.facts.events.run`, a class that has been released is
never changed.
"""

from __future__ import annotations

from typing import Literal

from firmware_py.facts import quantities as q
from firmware_py.facts.events.event import Event

Stage = Literal["boxed", "loaded", "exposed", "developing", "fixed", "washed", "dry", "filed", "broken"]
# What a run brings a plate to, in this order.
Reached = Literal["developing", "fixed", "washed", "dry"]


class PlateBoxed(Event, frozen=True, kw_only=True, tag="PlateBoxed"):
    """A plate lies unexposed in its box; ``name`` is what it is called by from now on."""

    name: str
    box_id: str
    box: str
    rehearsal: bool


class PlateLoaded(Event, frozen=True, kw_only=True, tag="PlateLoaded"):
    """The plate was put into a side of a holder."""

    holder_id: str
    holder: str
    side: str


class PlateUnloaded(Event, frozen=True, kw_only=True, tag="PlateUnloaded"):
    """The plate was taken out of its holder and put into a box; ``why`` may be empty."""

    why: str = ""


class PlateExposed(Event, frozen=True, kw_only=True, tag="PlateExposed"):
    """The plate in its holder was said to be exposed."""


class ExposureTakenBack(Event, frozen=True, kw_only=True, tag="ExposureTakenBack"):
    """It was a mistake to call the plate exposed."""


class ExposureNoted(Event, frozen=True, kw_only=True, tag="ExposureNoted"):
    """What the exposure was; the last note counts. Empty and None where nobody said.

    ``taken`` is the local hour with its offset (ISO 8601); ``scene``, ``sky`` and ``lighting`` are names of
    `craft.scene`; ``stop`` is as it was written ("U.S. 64"), ``f_number`` what it is; ``time_s`` [s] what
    was given. ``extension`` and ``filters`` are as written, their factors [times] what they call for.
    """

    taken: str = ""
    where: str = ""
    latitude_deg: q.Latitude | None = None
    longitude_deg: q.Longitude | None = None
    subject: str = ""
    scene: str = ""
    sky: str = ""
    lighting: str = ""
    stop: str = ""
    f_number: q.FNumber | None = None
    time_s: q.Seconds | None = None
    extension: str = ""
    extension_factor: q.Times = 1.0
    filters: str = ""
    filter_factor: q.Times = 1.0
    remark: str = ""

    def __post_init__(self) -> None:
        """Refuse a moment that is none."""
        q.require_moment_or_none(self.taken, "taken")


class PlateLaidOut(Event, frozen=True, kw_only=True, tag="PlateLaidOut"):
    """The plate was taken out of its box or holder for a run."""

    run_id: str
    tray: str


class PlateMistaken(Event, frozen=True, kw_only=True, tag="PlateMistaken"):
    """It was another plate that was taken out for the run: this one is where and what it was before."""

    run_id: str


class PlateAdvanced(Event, frozen=True, kw_only=True, tag="PlateAdvanced"):
    """The plate came to be developing, fixed, washed or dry: in a run, or as the person said (no run)."""

    to: Reached
    run_id: str = ""


class PlateFiled(Event, frozen=True, kw_only=True, tag="PlateFiled"):
    """The dry plate was put away where negatives are kept."""

    place: str


class PlateBroken(Event, frozen=True, kw_only=True, tag="PlateBroken"):
    """The plate broke, or was spoilt and thrown away."""

    how: str


AnyLifeEvent = (
    PlateBoxed
    | PlateLoaded
    | PlateUnloaded
    | PlateExposed
    | ExposureTakenBack
    | ExposureNoted
    | PlateLaidOut
    | PlateMistaken
    | PlateAdvanced
    | PlateFiled
    | PlateBroken
)
