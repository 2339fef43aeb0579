"""The heater and the probes in words: what it does, what stopped it and what to do, what each probe says."""

from __future__ import annotations

from firmware_py.facts.views.bench import ProbeView
from firmware_py.facts.views.upkeep import HeaterView
from tui.pages.shared.bench_words import relay_state
from tui.pages.shared.time_words import gone_words, printable

# What to do for each watcher of interlock 4. Own; its cautions are common practice, no source.
WHAT_TO_DO = {
    "above the limit": "Switch its plug off if it goes on warming; cool the water, then W sets it anew",
    "not warming": "Is it plugged in, under water, its probe in the same water? Then W sets it anew",
    "relay stuck": "SWITCH ITS PLUG OFF BY HAND: the relay does not let go. Change the relay",
}
STATES = {
    "off": "off",
    "warming": "WARMING",
    "holding": "HOLDING",
    "waiting": "WAITS",
    "stopped": "STOPPED",
}
NO_HEATER = "No heater on this bench"


def heater_lines(heater: HeaterView | None, now_s: float, *, lost: bool = False) -> list[str]:
    """Return the heater's state, then what is against it and what to do, then what cools."""
    if heater is None:
        return [NO_HEATER]
    aim = f" at {heater.set_degC:.4g} °C" if heater.set_degC is not None else ""
    bath = f" for {printable(heater.bath)}" if heater.bath else ""
    relay = f"relay {relay_state(heater.is_on, lost=lost)[1]}"
    share = f", {100 * heater.share:.0f} % of its power" if heater.share else ""
    lines = [f"HEATER {STATES[heater.state]}{aim}{bath}: {relay}{share}; {_water(heater, now_s)}"]
    if heater.words:
        name = f"Watcher “{printable(heater.watcher)}”: " if heater.watcher else ""
        lines.append(f"! {name}{printable(heater.words)}")
    if heater.state == "stopped":
        lines.append(WHAT_TO_DO.get(heater.watcher, "Find out why, then W sets it anew"))
    return [*lines, *(f"Cool: {printable(words)}" for words in heater.advice)]


def probe_line(probe: ProbeView, now_s: float) -> str:
    """Return a probe in one line: where it lies, what it says, how it was calibrated."""
    place = printable(probe.place)
    name = "" if printable(probe.name) == place else f" ({printable(probe.name)})"
    return f"{place}{name}: {_reading(probe, now_s)}; {calibration(probe)}"


def calibration(probe: ProbeView) -> str:
    """Return by what and when a probe was calibrated, and whether that is long ago."""
    if not probe.calibrated_utc:
        return (
            "never calibrated" if not probe.offset_K else f"{probe.offset_K:+.1f} K as set, never calibrated"
        )
    old = ", OVER A YEAR OLD: P" if probe.calibration_is_old else ""
    by = printable(probe.calibrated_by)
    return f"{probe.offset_K:+.1f} K by {by} {probe.calibrated_utc[:10]}{old}"


def _reading(probe: ProbeView, now_s: float) -> str:
    if probe.trouble or probe.bath_degC is None:
        return f"! {printable(probe.trouble) or 'no reading'}"
    sure = f" ±{probe.tolerance_K:.1f}" if probe.tolerance_K is not None else ""
    age_s = now_s - probe.read_at_s
    old = f", read {gone_words(age_s)} ago" if age_s > 6.0 else ""
    return f"{probe.bath_degC:.1f} °C{sure}{old}"


def _water(heater: HeaterView, now_s: float) -> str:
    place = printable(heater.place)
    if heater.bath_degC is None or heater.read_at_s is None:
        return f"no reading of the {place}"
    age_s = now_s - heater.read_at_s
    old = f", read {gone_words(age_s)} ago" if age_s > 6.0 else ""
    return f"{place} {heater.bath_degC:.1f} °C{old}"
