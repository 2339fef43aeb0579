"""A verdict as a person gives it."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.craft.contrast import LARGEST_GAMMA
from firmware_py.craft.verdict import Contrast, Density, Fault, Fog

DENSEST = 5.0
Measured = Annotated[float, msgspec.Meta(ge=0.0, le=DENSEST)] | None


class Verdict(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What a person says of a plate; densities as read, fog and base included, None where not measured.

    ``shadow_detail`` and ``highlights_blocked`` are None where nobody looked.
    """

    after: Literal["drying", "printing"] = "drying"
    density: Density = "right"
    contrast: Contrast = "right"
    fog: Fog = "none"
    faults: tuple[Fault, ...] = ()
    shadow_density: Measured = None
    highlight_density: Measured = None
    fog_density: Measured = None
    gamma: Annotated[float, msgspec.Meta(gt=0.0, le=LARGEST_GAMMA)] | None = None
    remark: Annotated[str, msgspec.Meta(max_length=2000)] = ""
    shadow_detail: bool | None = None
    highlights_blocked: bool | None = None
