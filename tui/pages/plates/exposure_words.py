"""A plate's exposure in words: what it got, in what light, and how that stands beside daylight."""

from __future__ import annotations

from firmware_py.craft.given import Against
from firmware_py.craft.shutter import say_exposure
from firmware_py.craft.stops import name_of_stop
from firmware_py.facts.events.life import ExposureNoted


def when_words(noted: ExposureNoted) -> str:
    """Return the local hour of an exposure; nothing where nobody said."""
    return noted.taken[:16].replace("T", " ") if noted.taken else ""


def given_words(noted: ExposureNoted) -> str:
    """Return what was given: time, stop, extension, filter."""
    parts = [
        say_exposure(noted.time_s) if noted.time_s is not None else "time not noted",
        f"at {stop_words(noted)}",
        f"extension {noted.extension}" if noted.extension_factor > 1 else "",
        f"filter {noted.filters}" if noted.filter_factor > 1 else "",
    ]
    return ", ".join(part for part in parts if part).replace(", at ", " at ", 1)


def stop_words(noted: ExposureNoted) -> str:
    """Return the stop as it was written, and as an f-number where that is another name."""
    if noted.f_number is None:
        return "a stop not noted"
    name = name_of_stop(noted.f_number)
    written = noted.stop.strip()
    return name if not written or written.casefold().startswith("f") else f"{written} ({name})"


def light_words(noted: ExposureNoted) -> str:
    """Return the light and the kind of scene."""
    lighting = f"{noted.lighting} light" if noted.lighting else ""
    return ", ".join(part for part in (noted.scene, noted.sky, lighting) if part)


def daylight_words(beside: Against | None, why_not: str) -> str:
    """Return what daylight would have said, and how many stops more or less the plate got."""
    if beside is None:
        return f"daylight: {why_not}"
    stops = abs(beside.more_stops)
    side = "more" if beside.more_stops > 0 else "less"
    given = "just that" if stops < 0.05 else f"{stops:.1f} stop{'s' if stops >= 0.95 else ''} {side}"
    inside = "within" if stops <= beside.doubt_stops else "beyond"
    said = f"daylight says {say_exposure(beside.reckoned_s)}: given {given}"
    return f"{said}, {inside} its doubt of {beside.doubt_stops:.1f} stop"
