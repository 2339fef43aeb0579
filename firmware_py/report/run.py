"""A run told once, as named facts: sheet, command line and Logbook page show these and word nothing anew."""

from __future__ import annotations

from firmware_py.craft.saying import say_temperature, say_time
from firmware_py.facts.about_run import AboutRun
from firmware_py.journal.outcome import OutsideOutcome, RunOutcome, VerdictOutcome
from firmware_py.report.told import Fact, clock, facts_of


def about_facts(run: AboutRun) -> tuple[Fact, ...]:
    """Return what was known of a run from its opening on; a new field of `AboutRun` gets its words here."""
    return facts_of(
        [
            ("Box", run.box),
            ("Light", "none until it is fixed" if run.dark else ""),
        ]
    )


def development_facts(came: RunOutcome) -> tuple[Fact, ...]:
    """Return how a run was developed: what was wanted, the time by the clock and its equivalent, the bath."""
    if came.target_s is None or came.reference_degC is None:
        return (Fact("Development", "this routine has none whose rate is known"),)
    bath = came.bath_degC
    return facts_of(
        [
            ("Developer", came.developer),
            ("Wanted", f"{clock(came.target_s)} at {say_temperature(came.reference_degC)}"),
            ("Ends by", ", ".join(came.ends)),
            ("Clock", clock(came.elapsed_s) if came.elapsed_s is not None else None),
            ("Equivalent", _equivalent(came)),
            ("OUTSIDE", outside_words(came.outside) if came.outside else None),
            ("Bath", f"{bath.min:.1f}–{bath.max:.1f} °C, mean {bath.mean:.1f}" if bath else None),
            ("Appearance", clock(came.appeared_s) if came.appeared_s is not None else None),
            ("Factor", f"{came.factor:g}" if came.factor is not None else None),
            ("Not beyond", clock(came.ceiling_s) if came.ceiling_s is not None else None),
        ]
    )


def _equivalent(came: RunOutcome) -> str | None:
    if came.equivalent_s is None:
        return None
    doubt_s = round(came.equivalent_doubt_s or 0.0)
    return clock(came.equivalent_s) + (f" ± {clock(doubt_s)}" if doubt_s else "")


def outside_words(outside: OutsideOutcome) -> str:
    """Return, to follow on OUTSIDE, that a developer was outside its tested range, how far and how long."""
    side = "below" if outside.furthest_K < 0 else "above"
    counted = "counted as at the nearer end" if outside.held else "counted by the same law"
    return (
        f"THE TESTED RANGE, {outside.low_degC:g} to {outside.high_degC:g} °C: up to "
        f"{abs(outside.furthest_K):.1f} K {side} it, {say_time(round(outside.lasted_s))} in all; {counted}"
    )


def verdict_facts(came: RunOutcome) -> tuple[tuple[str, tuple[Fact, ...]], ...]:
    """Return the last verdict on each plate: the plate's name and what was judged."""
    return tuple((one.plate, _judged(one)) for one in came.verdicts)


def _judged(one: VerdictOutcome) -> tuple[Fact, ...]:
    measures = (
        ("Shadow", one.shadow_density),
        ("High light", one.highlight_density),
        ("Fog and base", one.fog_density),
        ("Gamma", one.gamma),
    )
    return facts_of(
        [
            ("Judged", f"after {one.after}"),
            ("Density", one.density),
            ("Contrast", one.contrast),
            ("Fog, faults", ", ".join((one.fog, *one.faults))),
            *((name, f"{value:.2f}") for name, value in measures if value is not None),
            ("Remark", one.remark),
        ]
    )
