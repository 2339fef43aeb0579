"""What a sheet says of the exposures of its plates, as far as they were noted."""

from __future__ import annotations

from collections.abc import Sequence

from firmware_py.craft.shutter import say_exposure
from firmware_py.journal.exposed import Exposed


def exposure_facts(exposed: Sequence[Exposed]) -> list[tuple[str, str]]:
    """Return the facts of each exposure, under the name of its plate where there are several."""
    facts: list[tuple[str, str]] = []
    for one in exposed:
        facts += [("Plate", one.plate)] if len(exposed) > 1 else []
        facts += _facts(one)
    return facts


def _facts(one: Exposed) -> list[tuple[str, str]]:
    noted = one.noted
    light = ", ".join(part for part in (noted.sky, noted.scene, noted.lighting) if part)
    return [
        ("Side", one.side),
        ("When", noted.taken[:16].replace("T", " ")),
        ("Where", noted.where),
        ("Subject", noted.subject),
        ("Light", light),
        ("Stop", noted.stop),
        ("Time", "" if noted.time_s is None else say_exposure(noted.time_s)),
        ("Extension", noted.extension),
        ("Filter", noted.filters),
        ("Daylight", _beside(one)),
        ("Remark", noted.remark),
    ]


def _beside(one: Exposed) -> str:
    if one.against is None:
        return ""
    against = one.against
    said = f"said {say_exposure(against.reckoned_s)} ± {against.doubt_stops:.1f} stop"
    return f"{said}; this is {against.more_stops:+.1f} stop"
