"""Baths, heaters and probes as a screen may see them: invented, in every state there is."""

from __future__ import annotations

import msgspec

from firmware_py.facts.views.bench import ProbeView
from firmware_py.facts.views.upkeep import BathView, FormulaView, HeaterView
from tests.tui.sample_bench import NOW_S, bench, lane

DAY_S = 86400.0
HANDBOOK = "common practice, no source"


def bath(number: int, **changes) -> BathView:
    """A developer that nothing has gone through yet."""
    sample = BathView(
        bath_id=f"bath-{number}",
        name=f"pyro-soda {number}",
        formula="pyro-soda",
        title="Pyro-soda",
        kind="developer",
        made_utc="2031-05-03T18:00:00+00:00",
        volume_ml=500.0,
        state="good",
        against="",
        advice=(),
        runs=0,
        done_cm2=0.0,
        left_cm2=2000.0,
        share_done=0.0,
        age_s=0.9 * DAY_S,
        keeps_s=7 * DAY_S,
        left_s=6.1 * DAY_S,
        clearing_s=None,
        fresh_clearing_s=None,
        times_fresh=None,
        times_longer=1.0,
        works_at_degC=18.0,
        capacity_source=HANDBOOK,
        keeping_source=HANDBOOK,
    )
    return msgspec.structs.replace(sample, **changes)


FRESH = bath(1)
TIRED = bath(
    2, runs=9, done_cm2=1850.0, left_cm2=150.0, share_done=0.925, state="nearly done", times_longer=1.3
)
EXHAUSTED = bath(
    3,
    name="hypo in the stone jar",
    title="Plain hypo",
    kind="fixer",
    runs=14,
    done_cm2=2600.0,
    share_done=0.65,
    left_cm2=1400.0,
    state="used up",
    against="spent: it clears in 2.2 times its fresh time",
    clearing_s=286.0,
    fresh_clearing_s=130.0,
    times_fresh=2.2,
    works_at_degC=None,
)
OLD = bath(4, state="too old", against="too old by 2 days", age_s=9 * DAY_S, left_s=-2 * DAY_S)
NOT_KNOWN = bath(
    5,
    state="not known",
    left_cm2=None,
    share_done=None,
    age_s=None,
    keeps_s=None,
    left_s=None,
    times_longer=None,
)
BATHS = (FRESH, TIRED, EXHAUSTED, OLD, NOT_KNOWN)
FORMULAS = (
    FormulaView(name="pyro-soda", title="Pyro-soda", kind="developer", keeps_s=None, cm2_per_l=None),
    FormulaView(name="hydroquinone", title="Hydroquinone", kind="developer", keeps_s=None, cm2_per_l=None),
    FormulaView(name="plain-hypo", title="Plain hypo", kind="fixer", keeps_s=None, cm2_per_l=None),
)
PROBES = (
    ProbeView(name="long probe", place="tray 1", bath_degC=18.2, tolerance_K=0.2, read_at_s=NOW_S - 1),
    ProbeView(
        name="jacket",
        place="jacket",
        bath_degC=19.4,
        tolerance_K=0.1,
        read_at_s=NOW_S - 1,
        offset_K=-0.3,
        calibrated_utc="2030-02-11T10:00:00+00:00",
        calibrated_by="ice point",
        calibration_is_old=True,
    ),
    ProbeView(
        name="by the door",
        place="room",
        bath_degC=None,
        tolerance_K=None,
        read_at_s=NOW_S - 40,
        trouble="no answer",
    ),
)


def heater(**changes) -> HeaterView:
    """A heater that brings the jacket to 20 degC."""
    sample = HeaterView(
        state="warming",
        set_degC=20.0,
        bath="",
        is_on=True,
        share=1.0,
        place="jacket",
        bath_degC=17.6,
        read_at_s=NOW_S - 1,
        limit_degC=30.0,
        coldest_set_degC=5.0,
        warmest_set_degC=28.0,
        words="",
        advice=(),
    )
    return msgspec.structs.replace(sample, **changes)


STOPPED = heater(
    state="stopped",
    is_on=False,
    share=0.0,
    watcher="not warming",
    words="the water has not warmed by 0.5 K within 300 s of full heat",
)
TOO_WARM = heater(
    state="holding",
    is_on=False,
    share=0.0,
    bath_degC=22.5,
    advice=("2.5 K too warm: about 190 g of ice in the jacket, in a bag or not; then read again",),
)


def with_baths(*baths: BathView, **changes):
    """A bench with a plate in its developer, with ``baths``, probes and a heater."""
    parts = {"baths": baths, "formulas": FORMULAS, "probes": PROBES, "heater": heater()}
    return bench(lane(), **{**parts, **changes})
