"""What a verdict must be like before a run takes it."""

from __future__ import annotations

import math
from collections.abc import Collection
from itertools import pairwise

from firmware_py.craft.contrast import LARGEST_GAMMA
from firmware_py.craft.refusal import Refused, shown
from firmware_py.facts.events.verdict import PlateJudged
from firmware_py.facts.verdict import DENSEST


def check_verdict(event: PlateJudged, plates: Collection[str], where: str) -> None:
    """Refuse a verdict on another plate, or with measures that no plate can have."""
    if event.plate not in plates:
        raise Refused(f"no plate {shown(event.plate)} lay in it", where=where, allowed=", ".join(plates))
    for name in ("shadow_density", "highlight_density", "fog_density"):
        _check(name, getattr(event, name), DENSEST, where)
    _check("gamma", event.gamma, LARGEST_GAMMA, where)
    _check_rising(event, where)


def _check(name: str, value: float | None, highest: float, where: str) -> None:
    if value is not None and not (math.isfinite(value) and 0 <= value <= highest):
        words = name.replace("_", " ")
        raise Refused(f"a {words} of {value:g}", where=where, allowed=f"0 to {highest:g}")


def _check_rising(event: PlateJudged, where: str) -> None:
    known = [
        (name, value)
        for name, value in (
            ("fog", event.fog_density),
            ("shadow", event.shadow_density),
            ("high light", event.highlight_density),
        )
        if value is not None
    ]
    for (lower, low), (upper, high) in pairwise(known):
        if high < low:
            said = f"a {upper} of density {high:g} under a {lower} of {low:g}"
            raise Refused(said, where=where, allowed="fog, shadow, high light, in this order")
