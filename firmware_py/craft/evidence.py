"""The evidence of one plate: how it was exposed and developed, and how it came out; all of it optional."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass, fields

from firmware_py.craft.refusal import Refused
from firmware_py.craft.verdict import CONTRASTS, WEIGHTS, Contrast, Density, Fog

FOGS: tuple[Fog, ...] = ("none", "slight", "heavy")

# field -> what is allowed, ends included. Own: what a plate can have at all.
_LIMITS = {
    "exposure_stops": (-20.0, 20.0),
    "light_doubt_stops": (0.05, 5.0),
    "developed_s": (1.0, 86400.0),
    "bath_degC": (-5.0, 50.0),
    "appeared_s": (0.1, 86400.0),
    "appeared_degC": (-5.0, 50.0),
    "shadow_seen_s": (0.1, 86400.0),
    "shadow_density": (0.0, 6.0),
    "highlight_density": (0.0, 6.0),
    "fog_density": (0.0, 6.0),
    "gamma": (0.0, 6.0),
    "subject_log_range": (0.2, 4.0),
    "paper_log_range": (0.3, 3.0),
    "printed_log_range": (0.3, 3.0),
    "print_base_s": (0.01, 86400.0),
}


@dataclass(frozen=True, slots=True)
class PlateEvidence:
    """One plate of a box, tried. Every field may be left out: None is "unknown".

    Exposure and light
        ``exposure_stops`` [stops]: how much more exposure it had than was calculated from the box's printed
        index, without any correction; None is taken as "as calculated", with three stops of doubt.
        ``light_doubt_stops`` [stops]: one standard deviation of the light as it was estimated.
        ``subject_log_range``: log10 of the brightness range of the subject, deepest shadow with detail to
        highlight, where measured.
    Development
        ``developed_s`` [s] in the developer at ``bath_degC`` [degC], the mean of the bath over that time.
        Without ``bath_degC`` it counts as equivalent time at the prior's reference temperature.
        ``appeared_s`` [s]: when the image first showed, counted as ``developed_s`` is; ``appeared_degC``
        [degC] the mean bath up to then, where it differs. ``shadow_seen_s`` [s]: when shadow detail showed.
        ``pulled_by_eye``: the end was chosen by looking at the plate.
    How it came out
        ``contrast``, ``density`` and ``fog``: the words of a verdict (`verdict`), for a print on paper of
        ``paper_log_range`` (None: 1.05, the middle of grade 2). ``shadow_detail`` and ``highlights_blocked``:
        answers to the two questions that tell causes apart.
        ``shadow_density``, ``highlight_density``, ``fog_density`` [density] as read, fog and base included:
        of the deepest shadow that should have detail, of the brightest highlight, and of a part without
        exposure. ``gamma`` as read from a step tablet.
        ``printed_log_range``: the log range of a paper that printed it well; ``print_base_s`` [s] its base
        exposure, of use among plates printed on one paper and lamp.
    ``earlier_box``: of an earlier box of the same emulsion, which counts for less.

    Refuses what no plate can have. Source: own.
    """

    plate: str = ""
    exposure_stops: float | None = None
    light_doubt_stops: float = 0.7
    subject_log_range: float | None = None
    developed_s: float | None = None
    bath_degC: float | None = None
    appeared_s: float | None = None
    appeared_degC: float | None = None
    shadow_seen_s: float | None = None
    pulled_by_eye: bool = False
    contrast: Contrast | None = None
    density: Density | None = None
    fog: Fog | None = None
    shadow_detail: bool | None = None
    highlights_blocked: bool | None = None
    shadow_density: float | None = None
    highlight_density: float | None = None
    fog_density: float | None = None
    gamma: float | None = None
    paper_log_range: float | None = None
    printed_log_range: float | None = None
    print_base_s: float | None = None
    earlier_box: bool = False

    def __post_init__(self) -> None:
        where = f"plate {self.plate}".strip()
        for field in fields(self):
            limits = _LIMITS.get(field.name)
            value = getattr(self, field.name)
            if limits is None or value is None:
                continue
            if not (math.isfinite(value) and limits[0] <= value <= limits[1]):
                allowed = f"{limits[0]:g} to {limits[1]:g}"
                raise Refused(f"a {field.name} of {value:g}", where=where, allowed=allowed)
        _check_word(where, "contrast", self.contrast, CONTRASTS)
        _check_word(where, "density", self.density, WEIGHTS)
        _check_word(where, "fog", self.fog, FOGS)


def _check_word(where: str, name: str, word: str | None, known: Iterable[str]) -> None:
    names = tuple(known)
    if word is not None and word not in names:
        raise Refused(f'{name} "{str(word)[:40]}"', where=where, allowed=", ".join(names))
