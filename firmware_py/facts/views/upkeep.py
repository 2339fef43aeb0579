"""What is seen of baths, plates, light and heat: plain facts at the moment of the bench's view."""

from __future__ import annotations

from typing import Literal

from firmware_py.craft.baths import State
from firmware_py.craft.formula import Kind
from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.facts.views.fact import Fact

HeatState = Literal["off", "warming", "holding", "waiting", "stopped"]


class FormulaView(Fact, frozen=True, kw_only=True):
    """A formula that a bath can be made by: how long the bath keeps [s], what a litre does [cm²/l].

    ``substances`` are the names on the shelf of what it holds, ``cautions`` what its book says to beware of.
    """

    name: str
    title: str
    kind: Kind
    keeps_s: float | None
    cm2_per_l: float | None
    substances: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()


class BathView(Fact, frozen=True, kw_only=True):
    """A bath that stands on the bench, and what to think of it.

    ``share_done`` is 1 when it is used up. ``left_s`` [s] is what is left of its keeping time, ``age_s`` [s]
    its age; both None where nobody knows, also where the wall clock stands before its day. ``times_fresh``
    is how many times the fresh time its last plate took to clear, ``times_longer`` how many times its fresh
    time the next development takes. ``against`` says what speaks against another plate, or nothing.
    """

    bath_id: str
    name: str
    formula: str
    title: str
    kind: Kind
    made_utc: str
    volume_ml: float
    state: State
    against: str
    advice: tuple[str, ...]
    runs: int
    done_cm2: float
    left_cm2: float | None
    share_done: float | None
    age_s: float | None
    keeps_s: float | None
    left_s: float | None
    clearing_s: float | None
    fresh_clearing_s: float | None
    times_fresh: float | None
    times_longer: float | None
    works_at_degC: float | None
    capacity_source: str
    keeping_source: str


class PlateView(Fact, frozen=True, kw_only=True):
    """What the plates of a tray are: ``area_cm2`` [cm²] together, 0 where nobody said a size."""

    size: str
    area_cm2: float
    emulsion: str
    sensitivity: Sensitivity | None


class PlateLightView(Fact, frozen=True, kw_only=True):
    """The safelight on an open plate: the share of its safe time used at the view's moment, and what is left.

    ``used`` grows by ``1 / safe_s`` a second while ``lit``; None, with all that follows, without a test of
    its emulsion. ``words`` say what is to be known of it.
    """

    lit: bool
    used: float | None
    left_s: float | None
    safe_s: float | None
    words: str


class HeaterView(Fact, frozen=True, kw_only=True):
    """The heater: what it is set to, whether it is on, the share of its power, and the water it goes by.

    ``words`` say why it waits or is stopped, ``watcher`` by which watcher of interlock 4; ``advice`` what
    else helps. It can be set from ``coldest_set_degC`` to ``warmest_set_degC`` [degC].
    """

    state: HeatState
    set_degC: float | None
    bath: str
    is_on: bool
    share: float
    place: str
    bath_degC: float | None
    read_at_s: float | None
    limit_degC: float
    coldest_set_degC: float
    warmest_set_degC: float
    words: str
    advice: tuple[str, ...]
    watcher: str = ""
