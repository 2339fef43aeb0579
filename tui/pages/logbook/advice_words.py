"""The advice for the next plate of a box, in lines for a person."""

from __future__ import annotations

from firmware_py.craft.next_plate import Estimate, NextPlate, Tried
from firmware_py.journal.box_advice import BoxAdvice
from tui.pages.shared.time_words import printable, time_words


def advice_lines(told: BoxAdvice) -> list[str]:
    """Return what to do with the next plate, why, how surely, and the plates it rests on, newest first."""
    advice = told.advice
    rehearsal = ", REHEARSAL" if told.rehearsal else ""
    lines = [
        f"Next plate of {printable(told.box)} in {printable(told.developer)}{rehearsal}",
        f"  develop   {_development(advice)} at {told.reference_degC:g} degC",
        f"  expose    {_exposure(advice)}",
        *([f"  daylight  {daylight_words(advice.correction_stops)}"] if advice.correction_stops else []),
        f"  because   of the last plate: {advice.reason}",
        f"  sure      {sure_words(advice)}",
        *([f"  growth    {_growth(advice)}"] if advice.growth else []),
        *(f"  look to   {hint}" for hint in told.hints),
        *(f"  plate     {_tried(plate)}" for plate in reversed(told.tried)),
    ]
    if told.left_out:
        lines.append(
            f"  left out  {told.left_out} by another reference temperature or OUTSIDE THE TESTED RANGE"
        )
    return lines


def sure_words(advice: NextPlate) -> str:
    """Return how much the advice can be trusted, and why."""
    plates = advice.equivalent_s.plates
    if plates == 1:
        return "one plate only: a first guess"
    scatter = advice.equivalent_s.scatter or 0.0
    said = f"{plates} plates, times scatter {100 * scatter / advice.equivalent_s.value:.0f} %"
    correction = advice.correction_stops
    if correction is not None and correction.scatter is not None:
        said += f", exposures {correction.scatter:.1f} stop"
    return f"{said}: {'well founded' if advice.is_firm else 'rough, go by it with care'}"


def daylight_words(correction: Estimate) -> str:
    """Return what a book has learned of a box, with its doubt and from how many plates."""
    plates = "1 plate" if correction.plates == 1 else f"{correction.plates} plates"
    return f"{stops_words(correction.value)} ± {correction.doubt:.1f} against the reckoning, from {plates}"


def stops_words(stops: float) -> str:
    """Return a change of exposure in stops."""
    if abs(stops) < 0.05:
        return "no change"
    return f"{stops:+.1f} stop" + ("s" if abs(stops) >= 1.05 else "")


def _development(advice: NextPlate) -> str:
    time = advice.equivalent_s
    said = f"{time_words(round(time.value))} ± {time_words(round(time.doubt))}"
    factor = advice.factor
    return said if factor is None else f"{said}, or {factor.value:.1f} times the first appearance,"


def _exposure(advice: NextPlate) -> str:
    return f"{stops_words(advice.exposure_stops)} against the last plate"


def _growth(advice: NextPlate) -> str:
    growth = advice.growth
    assert growth is not None
    return f"measured: gamma to {growth.gamma_inf:.2f}, {growth.k_per_min:.3f} per min (base e)"


def _tried(plate: Tried) -> str:
    exposed = ""
    if plate.exposed_stops is not None:
        unchanged = stops_words(plate.exposed_stops) == stops_words(0.0)
        exposed = f", {'as reckoned' if unchanged else stops_words(plate.exposed_stops)}"
    looked = f"contrast {plate.contrast}, density {plate.density}"
    return f"{printable(plate.plate)}: {time_words(round(plate.equivalent_s))}, {looked}{exposed}"
