"""What the plates of a box say of its fog, apart from the image: it is judged and measured by itself."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.evidence import PlateEvidence

# ln of a box's fog [density] before any plate, and its doubt; how plates scatter, and what words mean. Own.
USUAL_LN, USUAL_LN_DOUBT = math.log(0.13), 0.6
SCATTER_LN, WORD_LN = 0.25, 0.45
WORDS = {"none": 0.12, "slight": 0.3, "heavy": 0.6}
HEAVY = 0.42


@dataclass(frozen=True, slots=True)
class FogBelief:
    """The fog of a box's plates [density]: the middle, and its doubt; ``heavy`` counts plates spoiled by it.

    Source: own.
    """

    value: float
    doubt: float
    heavy: int

    def fogged(self, plate: PlateEvidence) -> float:
        """Return the chance that fog spoiled a plate: as it was judged or measured, else as the box goes.

        Source: own.
        """
        if plate.fog_density is not None:
            return 0.5 * (1 + math.erf((plate.fog_density - HEAVY) / 0.04))
        if plate.fog is not None:
            return {"none": 0.02, "slight": 0.15, "heavy": 0.95}[plate.fog]
        return 0.5 * (1 + math.erf((self.value - HEAVY) / (1.4 * max(self.doubt, 0.03))))


def believe_fog(evidence: Sequence[PlateEvidence]) -> FogBelief:
    """Return the fog that a box's plates show, from words and densities; heavy words may have other causes.

    The mean of logarithms, each by its error, with what is usual as one more. Source: usual statistics; the
    errors are own.
    """
    weight = 1 / USUAL_LN_DOUBT**2
    total, heavy = USUAL_LN * weight, 0
    for plate in evidence:
        if plate.fog_density is not None:
            ln, error = math.log(max(plate.fog_density, 0.02)), SCATTER_LN
        elif plate.fog is not None:
            ln, error = math.log(WORDS[plate.fog]), WORD_LN
        else:
            continue
        heavy += ln >= math.log(HEAVY)
        counted = 1 / error**2
        weight += counted
        total += counted * ln
    value = math.exp(total / weight)
    return FogBelief(value, value / math.sqrt(weight), heavy)
