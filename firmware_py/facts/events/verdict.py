"""The facts of a plate that is done: how it was judged, dry or by its print."""

from __future__ import annotations

from typing import Literal

from firmware_py.craft.verdict import Contrast, Density, Fog
from firmware_py.facts import quantities as q
from firmware_py.facts.events.event import Event


class PlateJudged(Event, frozen=True, kw_only=True, tag="PlateJudged"):
    """A plate of the run was judged so; a later judgement of the same plate takes the place of this one.

    Densities are as read, fog and base included: of the thinnest shadow with detail, of the densest high
    light, and of the plate where no light fell. ``gamma`` was read from a step tablet on it.
    ``shadow_detail`` and ``highlights_blocked`` answer what tells two causes apart. None where unknown.
    """

    plate: str
    after: Literal["drying", "printing"]
    density: Density
    contrast: Contrast
    fog: Fog = "none"
    faults: tuple[str, ...] = ()
    shadow_density: q.Density | None = None
    highlight_density: q.Density | None = None
    fog_density: q.Density | None = None
    gamma: q.Density | None = None
    remark: str = ""
    shadow_detail: bool | None = None
    highlights_blocked: bool | None = None


AnyVerdictEvent = PlateJudged
