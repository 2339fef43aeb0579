"""The advice for the next plate of a box, in lines for a person."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from firmware_py.craft.belief import Advice, Cause, Known, Learning, Question
from firmware_py.journal.box_advice import BoxAdvice, BoxBelief, Correction, PlateTaught
from tui.pages.shared.time_words import printable, time_words

QUESTIONS: Mapping[Question, str] = MappingProxyType(
    {
        "shadow detail": "Look at the last plate: is there detail in the deepest shadow? Then judge it again",
        "highlights blocked": "Look at the last plate: are the highlights blocked? Then judge it again",
    }
)
DOUBTS: Mapping[str, str] = MappingProxyType(
    {
        "speed": "the speed of the box",
        "light": "the light of the day",
        "contrast": "gamma infinity",
        "velocity": "the velocity constant",
        "temperature": "the temperature coefficient",
    }
)


def advice_lines(told: BoxAdvice) -> list[str]:
    """Return what to do with the next plate, how likely it fits, and what each plate taught, newest first."""
    advice = told.advice
    rehearsal = ", REHEARSAL" if told.rehearsal else ""
    papers = " or ".join(f"{paper:.2f}" for paper in told.papers)
    return [
        f"Next plate of {printable(told.box)} in {printable(told.developer)}{rehearsal}",
        f"  chance    {in_ten(advice.chance)} fit a paper of log range {papers}",
        f"  develop   {_development(advice)} at {told.reference_degC:g} degC",
        f"  expose    {_exposure(told)}",
        *([f"  daylight  {daylight_words(told.correction)}"] if told.correction else []),
        f"  doubt     most: {DOUBTS[advice.most_doubt]}; from {_plates(len(told.plates))}",
        *([f"  last      {causes_words(told.plates[-1].causes)}"] if told.plates else []),
        *([f"  look      {QUESTIONS[told.question]}"] if told.question else []),
        *([f"  learn     {learning_words(advice.learning)}"] if advice.learning else []),
        *(f"  box       {line}" for line in belief_lines(told.belief)),
        *(f"  look to   {hint}" for hint in told.hints),
        *(f"  plate     {_taught(plate)}" for plate in reversed(told.plates)),
        *([f"  left out  {_plates(told.left_out)} OUTSIDE THE TESTED RANGE"] if told.left_out else []),
    ]


def in_ten(chance: float) -> str:
    """Return a chance in tenths: "7 in 10"."""
    tenths = round(10 * chance)
    if tenths == 0:
        return "under 1 in 10"
    return "over 9 in 10" if tenths == 10 else f"{tenths} in 10"


def causes_words(causes: Sequence[Cause]) -> str:
    """Return what was probably wrong with a plate, likeliest first, each with its chance."""
    return ", ".join(f"{cause.name} {in_ten(cause.chance)}" for cause in causes[:3]) or "unknown"


def learning_words(learning: Learning) -> str:
    """Return which plate would teach more than a try, and what it gains."""
    if learning.kind == "bracket":
        gains = f"{in_ten(learning.chance)} that one fits, against {in_ten(learning.chance_by_try)}"
        return f"expose a bracket, three strips 1.5 stops apart: {gains}"
    gains = f"{in_ten(learning.chance)} for the plate after it, against {in_ten(learning.chance_by_try)}"
    return f"copy a step tablet on the edge of the plate: {gains}"


def belief_lines(belief: BoxBelief) -> list[str]:
    """Return what is believed of a box, each with one standard deviation."""
    speed = f"speed {belief.speed_stops.value:+.1f} ± {belief.speed_stops.doubt:.1f} stops on its index"
    if belief.index is not None:
        speed = f"EI {belief.index:.2g} ± {belief.speed_stops.doubt:.1f} stops"
    lines = [
        f"{speed}, gamma infinity {_known(belief.gamma_inf)}",
        f"constant {_known(belief.k_per_min)} per min (base e)",
        f"times per 10 K {_known(belief.times_per_10K)}",
        f"fog and base {belief.fog.value:.2f} ± {belief.fog.doubt:.2f}",
    ]
    if belief.change is not None:
        since = _plates(belief.change.plates)
        lines.append(f"ANOTHER EMULSION since the last {since}? {in_ten(belief.change.chance)}")
    return lines


def daylight_words(correction: Correction) -> str:
    """Return what a book has learned of a box, with its doubt and from how many plates."""
    said = f"{stops_words(correction.stops)} ± {correction.doubt_stops:.1f}"
    return f"{said} on the calculated exposure, from {_plates(correction.plates)}"


def stops_words(stops: float) -> str:
    """Return a change of exposure in stops."""
    if abs(stops) < 0.05:
        return "no change"
    return f"{stops:+.1f} stop" + ("s" if abs(stops) >= 1.05 else "")


def _plates(count: int) -> str:
    return "1 plate" if count == 1 else f"{count} plates"


def _known(known: Known) -> str:
    return f"{known.value:.2f} ± {known.doubt:.2f}"


def _development(advice: Advice) -> str:
    low, high = time_words(round(advice.developed_low_s)), time_words(round(advice.developed_high_s))
    said = f"{time_words(round(advice.developed_s))} ({low} to {high})"
    return f"{said}, or {advice.factor:.1f} times the first appearance,"


def _exposure(told: BoxAdvice) -> str:
    advice = told.advice
    off = advice.exposure_stops - told.more_than_last_stops
    low, high = advice.exposure_low_stops - off, advice.exposure_high_stops - off
    return f"{stops_words(told.more_than_last_stops)} on the last plate ({low:+.1f} to {high:+.1f})"


def _taught(plate: PlateTaught) -> str:
    exposed = ""
    if plate.exposed_stops is not None:
        unchanged = stops_words(plate.exposed_stops) == stops_words(0.0)
        exposed = f", {'as calculated' if unchanged else stops_words(plate.exposed_stops)}"
    looked = f"contrast {plate.contrast}, density {plate.density}"
    said = f"{printable(plate.plate)}: {time_words(round(plate.equivalent_s))}, {looked}{exposed}"
    return f"{said}: {causes_words(plate.causes[:1])}"
