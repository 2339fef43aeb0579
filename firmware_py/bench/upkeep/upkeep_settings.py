"""What the settings say of baths, plates, safelight and heat, as the bench takes it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from pathlib import Path

from firmware_py.bench.upkeep.baths import BathRule
from firmware_py.bench.upkeep.plate_light import SafelightTest
from firmware_py.bench.upkeep.plates import PlateRule
from firmware_py.bench.upkeep.upkeep import UpkeepPlan
from firmware_py.bench.warmth.heat_facts import HEATER, HeatRule
from firmware_py.bench.warmth.probes import ProbeFacts
from firmware_py.craft.formula import Formula
from firmware_py.data.formulary import formulas_in, shipped_formulas
from firmware_py.settings import Settings


def upkeep_plan(settings: Settings) -> UpkeepPlan:
    """Return what the settings say of baths, plates, safelight and heat."""
    plates = settings.plates
    return UpkeepPlan(
        formulas=all_formulas(settings.bench.formulas),
        baths=BathRule(settings.baths.exhausted),
        plates=PlateRule(plates.size or "", plates.emulsion, plates.sensitivity),
        safelight_tests=tuple(
            SafelightTest(test.emulsion, float(test.no_change), float(test.detectable), test.light)
            for test in settings.safelight_test.values()
        ),
        heat=heat_rule(settings) if HEATER in settings.relay else None,
        probes={
            name: ProbeFacts(probe.wire or "", float(probe.offset)) for name, probe in settings.probe.items()
        },
    )


def heat_rule(settings: Settings) -> HeatRule:
    """Return how the jacket is heated."""
    said = settings.heater
    return HeatRule(
        place=said.place,
        limit_degC=float(said.limit),
        band_K=float(said.band),
        make_up_s=float(said.make_up),
        window_s=float(said.window),
        shortest_s=float(said.shortest),
        warms_by_K=float(said.warms_by),
        warms_within_s=float(said.warms_within),
        stay_limit_s=float(said.stay_limit),
        jacket_ml=None if said.jacket is None else float(said.jacket),
    )


def all_formulas(folder: str | None) -> Callable[[], Mapping[str, Formula]]:
    """Return what reads, once, the shipped formulas and the user's own, which count where names meet."""

    @cache
    def read() -> Mapping[str, Formula]:
        return {**shipped_formulas(), **(formulas_in(Path(folder)) if folder else {})}

    return read
