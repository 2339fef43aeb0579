"""Draws baths, plates, light and heat as a view."""

from __future__ import annotations

from firmware_py.bench.interlocks.safelight import warning
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.upkeep.plate_light import SAFELIGHT
from firmware_py.bench.upkeep.upkeep import Upkeep
from firmware_py.bench.warmth.heater import COLDEST_SET_degC, Heater
from firmware_py.craft.formula import Formula
from firmware_py.craft.mixing import substances_of
from firmware_py.craft.refusal import Refused
from firmware_py.craft.tempering import ice_g
from firmware_py.devices.probe import Reading
from firmware_py.facts.views.upkeep import (
    BathView,
    FormulaView,
    HeaterView,
    HeatState,
    PlateLightView,
    PlateView,
)
from firmware_py.journal.bath_record import BathRecord

# Ice is not worth the trouble for less. Common practice, no source.
TOO_WARM_K = 0.5


def show_formulas(upkeep: Upkeep) -> tuple[FormulaView, ...]:
    """Return the formulas that baths can be made by; none before they are read."""
    return tuple(map(_formula, upkeep.known_formulas.values()))


def show_baths(upkeep: Upkeep) -> tuple[BathView, ...]:
    """Return the baths that stand on the bench, oldest first."""
    return tuple(_bath(upkeep, bath) for _, bath in sorted(upkeep.baths.standing.items()))


def show_plate(lane: Lane) -> PlateView | None:
    """Return what a lane's plates are, None where nobody said."""
    kind = lane.record.plate_kind
    if kind is None:
        return None
    return PlateView(
        size=kind.size, area_cm2=kind.area_cm2, emulsion=kind.emulsion, sensitivity=kind.sensitivity
    )


def show_light(upkeep: Upkeep, lane: Lane, now_s: float) -> PlateLightView | None:
    """Return the safelight on a lane's plate, None once it is open no more."""
    if not lane.is_open_plate:
        return None
    plate, safe_s = upkeep.light.plate(lane, now_s), upkeep.light.safe_time_s(lane)
    untested = "" if safe_s is not None else _untested(lane)
    return PlateLightView(
        lit=lane.record.light.is_lit_by(SAFELIGHT),
        used=plate.budget.used if plate.budget is not None else None,
        left_s=upkeep.light.left_s(lane, now_s),
        safe_s=safe_s,
        words=warning(plate) or untested,
    )


def show_heater(heater: Heater | None) -> HeaterView | None:
    """Return the heater, None on a bench without one."""
    if heater is None:
        return None
    word = heater.word
    reading = word if isinstance(word, Reading) else None
    return HeaterView(
        state=_state(heater),
        set_degC=heater.set_degC,
        bath=heater.bath,
        is_on=heater.is_on,
        share=heater.share,
        place=heater.rule.place,
        bath_degC=reading.bath_degC if reading else None,
        read_at_s=reading.taken_s if reading else None,
        limit_degC=heater.rule.limit_degC,
        coldest_set_degC=COLDEST_SET_degC,
        warmest_set_degC=heater.warmest_set_degC,
        words=heater.stopped or (heater.waiting if heater.set_degC is not None else ""),
        advice=tuple(_cooling(heater, reading)),
        watcher=heater.stopped_by,
    )


def _formula(formula: Formula) -> FormulaView:
    return FormulaView(
        name=formula.name,
        title=formula.title,
        kind=formula.kind,
        keeps_s=formula.keeping.mixed_s if formula.keeping else None,
        cm2_per_l=formula.capacity.cm2_per_l if formula.capacity else None,
        substances=substances_of(formula),
        cautions=formula.cautions,
    )


def _bath(upkeep: Upkeep, bath: BathRecord) -> BathView:
    made, judged = bath.made, upkeep.baths.judged(bath, upkeep.plan.plates.area_cm2)
    return BathView(
        bath_id=bath.subject,
        name=bath.name,
        formula=made.formula,
        title=made.title,
        kind=made.kind,
        made_utc=bath.made_utc,
        volume_ml=made.volume_ml,
        state=judged.state,
        against=judged.against,
        advice=judged.advice,
        runs=bath.runs,
        done_cm2=bath.done_cm2,
        left_cm2=judged.left_cm2,
        share_done=judged.share_done,
        age_s=judged.age_s,
        keeps_s=made.keeps_s,
        left_s=judged.left_s,
        clearing_s=bath.clearing_s,
        fresh_clearing_s=bath.fresh_clearing_s,
        times_fresh=judged.fixer.times_fresh if judged.fixer else None,
        times_longer=judged.times_longer,
        works_at_degC=bath.works_at_degC,
        capacity_source=made.capacity_source,
        keeping_source=made.keeping_source,
    )


def _untested(lane: Lane) -> str:
    kind = lane.record.plate_kind
    if kind is None or not kind.emulsion:
        return "Nobody said its emulsion: its time under the safelight is not watched"
    return f"No safelight test of {kind.emulsion}: its time under the safelight is not watched"


def _state(heater: Heater) -> HeatState:
    if heater.stopped:
        return "stopped"
    if heater.set_degC is None:
        return "off"
    if heater.waiting:
        return "waiting"
    return "warming" if heater.share >= 1.0 else "holding"


def _cooling(heater: Heater, reading: Reading | None) -> list[str]:
    """Return what cools the jacket: the bench itself can not."""
    wanted_degC, jacket_ml = heater.set_degC, heater.rule.jacket_ml
    if wanted_degC is None or reading is None or reading.bath_degC < wanted_degC + TOO_WARM_K:
        return []
    too_warm = f"{reading.bath_degC - wanted_degC:.1f} K too warm"
    if jacket_ml is None:
        return [f"{too_warm}: cool it with ice in a bag (the jacket's volume is not set)"]
    try:
        ice = ice_g(jacket_ml, reading.bath_degC, wanted_degC)
    except Refused:
        return []
    return [f"{too_warm}: about {ice:.0f} g of ice in the jacket, in a bag or not; then read again"]
