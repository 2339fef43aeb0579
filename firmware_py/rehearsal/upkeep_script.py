"""What a script's person can do for baths, plates, heat and probes: the pieces of a deed, and their acts."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.craft.units import read_temperature_degC
from firmware_py.facts.acts import bath as ua
from firmware_py.rehearsal.print_script import LAMP_KEYS, LampDeed
from firmware_py.strict_toml import DegC, Kelvins, Millilitres, Seconds

Words = Annotated[str, msgspec.Meta(min_length=1, max_length=60)]


class BathText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``bath = { formula = "…", volume = "500 ml" }``."""

    formula: Words
    volume: Millilitres
    name: str = ""
    made: str | None = None
    fresh_clearing: Seconds | None = None


class ClearingText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``clearing = { bath = "…", time = "75 s" }``."""

    bath: Words
    time: Seconds
    fresh: bool = False


class PlateText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``plate = { size = "…", emulsion = "…", sensitivity = "panchromatic" }``, of the run in focus."""

    size: str = ""
    emulsion: str = ""
    sensitivity: Sensitivity | None = None


class CalibrateText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``calibrate = { probe = "…", against = "ice point" }``."""

    probe: Words
    against: Literal["ice point", "reference thermometer"]
    reference: DegC | None = None
    tolerance: Kelvins | None = None


class UpkeepDeed(LampDeed, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The keys of a deed that concern baths, plates, heat and probes; ``heat`` is a temperature, or "off"."""

    bath: BathText | None = None
    use_bath: Words | None = None
    discard_bath: Words | None = None
    clearing: ClearingText | None = None
    plate: PlateText | None = None
    heat: Words | None = None
    calibrate: CalibrateText | None = None

    def __post_init__(self) -> None:
        """Refuse a temperature that is none."""
        if self.heat is not None and self.heat != "off":
            read_temperature_degC(self.heat, where="`heat`")


UPKEEP_KEYS = tuple(key for key in UpkeepDeed.__struct_fields__ if key not in LAMP_KEYS)


def upkeep_act(deed: UpkeepDeed) -> ua.AnyUpkeepAct | None:
    """Return the act that a deed stands for, or None where it is none of these."""
    if deed.heat is not None:
        return _heat(deed.heat)
    if deed.plate is not None:
        plate = deed.plate
        return ua.DescribePlate(size=plate.size, emulsion=plate.emulsion, sensitivity=plate.sensitivity)
    if deed.calibrate is not None:
        return _calibrate(deed.calibrate)
    return _bath_act(deed)


def _bath_act(deed: UpkeepDeed) -> ua.AnyUpkeepAct | None:
    if deed.bath is not None:
        return _make(deed.bath)
    if deed.use_bath is not None:
        return ua.NameBath(bath=deed.use_bath)
    if deed.discard_bath is not None:
        return ua.DiscardBath(bath=deed.discard_bath)
    if deed.clearing is None:
        return None
    said = deed.clearing
    return ua.SeeClearing(bath=said.bath, clearing_s=float(said.time), fresh=said.fresh)


def _heat(words: str) -> ua.SetHeat | ua.StopHeat:
    return (
        ua.StopHeat() if words == "off" else ua.SetHeat(set_degC=read_temperature_degC(words, where="heat"))
    )


def _make(bath: BathText) -> ua.MakeBath:
    return ua.MakeBath(
        formula=bath.formula,
        volume_ml=float(bath.volume),
        name=bath.name,
        made=bath.made,
        fresh_clearing_s=None if bath.fresh_clearing is None else float(bath.fresh_clearing),
    )


def _calibrate(said: CalibrateText) -> ua.CalibrateProbe:
    return ua.CalibrateProbe(
        probe=said.probe,
        against=said.against,
        reference_degC=None if said.reference is None else float(said.reference),
        tolerance_K=None if said.tolerance is None else float(said.tolerance),
    )
