"""What may end a development, and when in it: by time, by the first appearance, or at its ceiling."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from firmware_py.craft.appearance import equivalent_target
from firmware_py.craft.routine import Development

EndingBy = Literal["time", "appearance", "ceiling"]


@dataclass(frozen=True, slots=True)
class Ending:
    """A moment of a development, in equivalent time [s] or in seconds of the clock [s] since it began.

    ``ends`` says whether it ends the development; otherwise it is only told: beside an inspection for
    the person to judge by, or, at the ceiling of one, to be called out.
    """

    by: EndingBy
    ends: bool
    equivalent_s: float | None = None
    elapsed_s: float | None = None


def endings(
    development: Development, appeared_s: float | None, target_s: float | None = None
) -> tuple[Ending, ...]:
    """Return the moments that a development knows of, once the image appeared at ``appeared_s`` [s].

    ``appeared_s`` is equivalent time, None before the appearance (and an appearance at 0 s tells nothing).
    ``target_s`` [s] is wanted instead of the development's own where its bath makes it longer.
    At its ceiling a development by inspection is not ended, for only the person can take the plate out
    on what is seen: the bench calls. Every other one ends there.
    Source: own; the factor is Watkins' (see `appearance`).
    """
    given = development
    known = [Ending("time", "time" in given.ends, equivalent_s=target_s or given.target_s)]
    if given.factor is not None and appeared_s is not None and appeared_s > 0:
        wanted_s = equivalent_target(appeared_s, given.factor)
        known.append(Ending("appearance", "appearance" in given.ends, equivalent_s=wanted_s))
    by_eye = "inspection" in given.ends
    if given.ceiling_s is not None:
        known.append(Ending("ceiling", not by_eye, equivalent_s=given.ceiling_s))
    if given.longest_s is not None:
        known.append(Ending("ceiling", not by_eye, elapsed_s=given.longest_s))
    return tuple(known)
