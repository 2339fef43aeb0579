"""A bath's temperature in words, so that nobody takes a guess for a reading."""

from __future__ import annotations

from firmware_py.facts.views.run import BathTemperature, LaneView
from tui.pages.shared.time_words import gone_words

# Older than this a probe's reading is said to be old, whoever calls it fresh. Common practice, no source.
OLD_S = 6.0
# What rounds to no tenth of a kelvin is not told.
SHOWN_K = 0.05
STEADY_K_PER_MIN = 0.05


def bath_words(bath: BathTemperature, now_s: float) -> str:
    """Return one line: the value, how sure, where it comes from, how old, where it goes."""
    value = f"{bath.bath_degC:.1f} °C ±{bath.tolerance_K:.1f}"
    age_s = now_s - bath.read_at_s
    match bath.source:
        case "hand":
            return f"Bath {value} BY HAND, {gone_words(age_s)} ago{_going(bath)}"
        case "trend":
            return f"Bath about {value} BY TREND, read {gone_words(age_s)} ago"
        case "assumed":
            return f"Bath {bath.bath_degC:.1f} °C ±{bath.tolerance_K:.0f} only ASSUMED: no reading"
        case "probe" | "trace":
            if age_s > OLD_S:
                return f"Bath WAS {value}, read {gone_words(age_s)} ago"
            source = "" if bath.source == "probe" else " of the trace"
            return f"Bath {value}{source}, read {gone_words(age_s)} ago{_going(bath)}"


def outside_words(lane: LaneView) -> str:
    """Return a bath outside the tested range or outside what the step wants, in one line; nothing inside."""
    (low, high), bath = lane.window, lane.bath
    if bath is None:
        return ""
    value = f"Bath {bath.bath_degC:.1f} °C ±{bath.tolerance_K:.1f}"
    if abs(lane.outside_K) >= SHOWN_K:
        return f"{value} OUTSIDE THE TESTED RANGE by {abs(lane.outside_K):.1f} K"
    if not lane.is_outside:
        return ""
    if low is not None and bath.bath_degC < low:
        return f"{value} TOO COLD: {low:g} or more is wanted"
    if high is not None and bath.bath_degC > high:
        return f"{value} TOO WARM: {high:g} or less is wanted"
    return ""


def is_doubtful(bath: BathTemperature, now_s: float) -> bool:
    """Return whether the person should look after the temperature."""
    return bath.source in {"trend", "assumed"} or (bath.source != "hand" and now_s - bath.read_at_s > OLD_S)


def _going(bath: BathTemperature) -> str:
    trend = bath.trend_K_per_min
    if trend is None:
        return ""
    if abs(trend) < STEADY_K_PER_MIN:
        return ", steady"
    return f", {'rising' if trend > 0 else 'falling'} {abs(trend):.1f} K/min"
