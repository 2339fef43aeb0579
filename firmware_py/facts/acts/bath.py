"""What a person can ask of the bench besides runs and prints: baths, plates, heat, thermometers."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.facts.acts.act import Act

Words = Annotated[str, msgspec.Meta(min_length=1, max_length=200)]
Label = Annotated[str, msgspec.Meta(max_length=60)]
Day = Annotated[str, msgspec.Meta(min_length=8, max_length=40)]
Millilitres = Annotated[float, msgspec.Meta(ge=10.0, le=100_000.0)]
Seconds = Annotated[float, msgspec.Meta(gt=0.0, le=3600.0)]
KeepingSeconds = Annotated[float, msgspec.Meta(gt=0.0, le=3650 * 86400.0)]
AreaPerLitre = Annotated[float, msgspec.Meta(ge=1e-3, le=1e6)]
Degrees = Annotated[float, msgspec.Meta(ge=0.0, le=40.0)]
Reference = Annotated[float, msgspec.Meta(ge=-5.0, le=60.0)]
Kelvins = Annotated[float, msgspec.Meta(ge=0.0, le=2.0)]


class UpkeepAct(Act, frozen=True, kw_only=True):
    """Something a person does to keep the bench in order."""


class MakeBath(UpkeepAct, frozen=True, kw_only=True, tag="make-bath"):
    """Make a bath of ``volume_ml`` [ml] by a formula: now, or on the day ``made`` (ISO 8601, UTC).

    What the formula does not say, the person may: a litre does ``cm2_per_l`` [cm²/l], the bath keeps
    ``keeps_s`` [s], fresh it clears a plate in ``fresh_clearing_s`` [s].
    """

    formula: Words
    volume_ml: Millilitres
    name: Label = ""
    made: Day | None = None
    cm2_per_l: AreaPerLitre | None = None
    keeps_s: KeepingSeconds | None = None
    fresh_clearing_s: Seconds | None = None


class DiscardBath(UpkeepAct, frozen=True, kw_only=True, tag="discard-bath"):
    """Throw a bath away."""

    bath: Words
    why: Label = ""


class DateBath(UpkeepAct, frozen=True, kw_only=True, tag="date-bath"):
    """Put right when a bath was made (ISO 8601, UTC)."""

    bath: Words
    made: Day


class SeeClearing(UpkeepAct, frozen=True, kw_only=True, tag="see-clearing"):
    """Say in what time [s] a plate cleared in a fixer; ``fresh`` if that is the fresh bath's time."""

    bath: Words
    clearing_s: Seconds
    fresh: bool = False


class NameBath(UpkeepAct, frozen=True, kw_only=True, tag="name-bath"):
    """Name the bath for a step of a run by the step's number (0 is the first), or for the one next or now."""

    bath: Words
    step: Annotated[int, msgspec.Meta(ge=0, le=100)] | None = None
    lane: int | None = None


class DescribePlate(UpkeepAct, frozen=True, kw_only=True, tag="describe-plate"):
    """Say what the plate of a lane is: its size, emulsion and sensitivity, as far as they are known."""

    size: Label = ""
    emulsion: Label = ""
    sensitivity: Sensitivity | None = None
    lane: int | None = None


class SetHeat(UpkeepAct, frozen=True, kw_only=True, tag="set-heat"):
    """Let the heater bring the water to ``set_degC`` [degC], or to what the named bath works at.

    With both, the bath will be known to work at that temperature.
    """

    set_degC: Degrees | None = None
    bath: Words | None = None


class StopHeat(UpkeepAct, frozen=True, kw_only=True, tag="stop-heat"):
    """Let the heater be, and forget what a watcher had against it."""


class CalibrateProbe(UpkeepAct, frozen=True, kw_only=True, tag="calibrate-probe"):
    """Hold a probe's last readings against melting ice, or a thermometer that shows ``reference_degC``.

    The reference is good to ``tolerance_K`` [K].
    """

    probe: Words
    against: Literal["ice point", "reference thermometer"]
    reference_degC: Reference | None = None
    tolerance_K: Kelvins | None = None


AnyUpkeepAct = (
    MakeBath
    | DiscardBath
    | DateBath
    | SeeClearing
    | NameBath
    | DescribePlate
    | SetHeat
    | StopHeat
    | CalibrateProbe
)
