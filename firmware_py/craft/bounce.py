"""How long the contacts of a switch bounce, read off their raw edges, and what debounce that asks for."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from firmware_py.craft.refusal import Refused

# Edges closer together than this are one movement of the contacts; no foot is so quick. Own judgement.
ONE_MOVEMENT_S = 0.04
# What is proposed: twice the longest bounce seen, for contacts grow worse, within what a foot does not feel.
# Common practice, no source.
TIMES, LEAST_S, MOST_S, STEP_S = 2.0, 0.02, 0.1, 0.005
FEWEST_MOVEMENTS = 10


@dataclass(frozen=True, slots=True)
class Bounce:
    """Over ``movements`` the longest bounce was ``longest_s`` [s]; ``proposed_s`` [s] is the debounce for it.

    Source: own.
    """

    movements: int
    longest_s: float
    proposed_s: float

    @property
    def is_worn(self) -> bool:
        """Get whether the contacts bounce for longer than a debounce can take out. Source: own judgement."""
        return self.longest_s * TIMES > MOST_S


def bounce_of(edges_s: Sequence[float]) -> Bounce:
    """Return the bounce from the moments [s] of all raw edges, in order.

    Edges within 0.04 s of the one before belong to one movement. Raises `Refused` for fewer than ten.
    Source: own.
    """
    movements: list[list[float]] = []
    for edge_s in edges_s:
        if not math.isfinite(edge_s) or (movements and edge_s < movements[-1][-1]):
            raise Refused(f"an edge at {edge_s:g} s", where="bounce", allowed="moments in order")
        if movements and edge_s - movements[-1][-1] < ONE_MOVEMENT_S:
            movements[-1].append(edge_s)
        else:
            movements.append([edge_s])
    if len(movements) < FEWEST_MOVEMENTS:
        raise Refused(
            f"{len(movements)} movements", where="bounce", allowed=f"{FEWEST_MOVEMENTS} or more: five presses"
        )
    longest_s = max(movement[-1] - movement[0] for movement in movements)
    steps = math.ceil(longest_s * TIMES / STEP_S - 1e-9)
    return Bounce(len(movements), longest_s, min(MOST_S, max(LEAST_S, steps * STEP_S)))
