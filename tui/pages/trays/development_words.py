"""A development in words: its clocks beside each other, its equivalent time, where others were pulled."""

from __future__ import annotations

from firmware_py.facts.views.run import EndingView, LaneView
from firmware_py.journal.book_target import BookTarget
from tui.pages.logbook.advice_words import in_ten
from tui.pages.shared.time_words import gone_words, left_words, printable, time_words

BEFORE_OR_IN_DEVELOPER = frozenset({"soak", "develop"})


def is_by_eye(lane: LaneView) -> bool:
    """Return whether a person ends the development."""
    return "inspection" in lane.ends


def clocks(lane: LaneView, now_s: float) -> str:
    """Return what else tells the end than the large digits: by factor and by coefficient, and the ceiling.

    The one that ends the development has an arrow; none has where a person does.
    """
    told = [_clock(ending, lane, now_s) for ending in _by_weight(lane)]
    left = f"left by {', '.join(told)}" if told else ""
    if lane.factor is not None and not any(ending.by == "appearance" for ending in lane.endings):
        return "; ".join(
            part for part in (f"Factor {lane.factor:g}: mark the first appearance", left) if part
        )
    # The large digits tell the only one already.
    return _sentence(left) if len(told) > 1 or is_by_eye(lane) else ""


def equivalent_words(lane: LaneView, equivalent_s: float | None) -> str:
    """Return how far the development is, as time at its reference temperature."""
    if lane.target_s is None:
        return ""
    worth = f"{time_words(round(lane.target_s))} at {lane.reference_degC:.4g} °C"
    longer = f" (bath: {100 * (lane.times_longer - 1):.0f} % longer)" if lane.times_longer > 1.0 else ""
    if equivalent_s is None:
        return f"Equivalent time wanted: {worth}{longer}"
    return f"Equivalent {gone_words(equivalent_s)} of {worth}"


def share_done(lane: LaneView, equivalent_s: float | None) -> float | None:
    """Return the share of the equivalent time wanted that is done."""
    return equivalent_s / lane.target_s if equivalent_s is not None and lane.target_s else None


def precedent_words(lane: LaneView) -> str:
    """Return where earlier plates of the same box were pulled out of this developer, in equivalent time.

    Nothing once the plate is out of it.
    """
    known, here = lane.precedent, next((step for step in lane.steps if step.place == "here"), None)
    if known is None or here is None or here.kind not in BEFORE_OR_IN_DEVELOPER:
        return ""
    median, low, high = (time_words(round(s)) for s in (known.median_s, known.low_s, known.high_s))
    if known.plates == 1:
        return f"One earlier plate of this box: pulled at {median}"
    return f"{known.plates} of this box: pulled at {median} ({low} to {high})"


def book_words(target: BookTarget) -> str:
    """Return how long the book would develop this plate, in equivalent time, and how likely it then fits."""
    middle, low, high = (time_words(round(s)) for s in (target.equivalent_s, target.low_s, target.high_s))
    return f"Book: {middle} ({low} to {high}), {in_ten(target.chance)} fit"


def _by_weight(lane: LaneView) -> list[EndingView]:
    """Return the endings to tell: by factor, by coefficient, and the ceiling that comes first."""
    ceilings = [ending for ending in lane.endings if ending.by == "ceiling"]
    first = min(ceilings, key=lambda ending: ending.due_s, default=None)
    others = [ending for by in ("appearance", "time") for ending in lane.endings if ending.by == by]
    return [*others, first] if first is not None else others


def _clock(ending: EndingView, lane: LaneView, now_s: float) -> str:
    left_s = ending.due_s - now_s
    left = left_words(left_s) if left_s > 0 else f"over by {gone_words(-left_s)}"
    sign = "►" if ending.ends and ending.by == lane.due_by else ""
    match ending.by:
        case "appearance":
            return f"factor {sign}{left}"
        case "time":
            return f"coefficient {sign}{left}"
        case "ceiling":
            return f"ceiling {sign}{left}"


def _sentence(words: str) -> str:
    plain = printable(words)
    return plain[:1].upper() + plain[1:]
