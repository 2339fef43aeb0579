"""What a script's person can do at the trays, and with which of them: pieces of a deed, and their acts."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.craft.simulation import GrowingImage
from firmware_py.facts.acts import run as acts
from firmware_py.rehearsal.upkeep_script import UPKEEP_KEYS, UpkeepDeed
from firmware_py.strict_toml import DegC, Seconds, SignedSeconds

Words = Annotated[str, msgspec.Meta(min_length=1, max_length=200)]
Tray = Annotated[int, msgspec.Meta(ge=1, le=6)]


class ImageText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``image = { appears = "40 s", shadow_detail = "3 min" }``: when its signs show, in equivalent time."""

    appears: Seconds
    shadow_detail: Seconds

    def __post_init__(self) -> None:
        """Refuse an image that can not grow so."""
        if not 0.0 < self.appears < self.shadow_detail:
            raise ValueError("`shadow_detail` comes after `appears`, and both after the start")

    def image(self) -> GrowingImage:
        """Return the simulated image."""
        return GrowingImage(appears_s=float(self.appears), shadow_detail_s=float(self.shadow_detail))


class OpenText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``open = { plate = "…", routine = "…" }``, with what else is known of the plate."""

    plate: Words
    routine: Words
    others: tuple[Words, ...] = ()
    box: str = ""
    dark: bool = False
    tray: Tray | None = None
    image: ImageText | None = None


class TakeUpText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``take_up = { away = "2 min", doubt = "10 s" }``; empty: after the likely time."""

    away: Seconds | None = None
    doubt: Seconds | None = None


class TrayDeed(UpkeepDeed, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The keys of a deed that concern the trays.

    ``of`` names the plate that the deed is for, or ``tray`` its tray; neither means the one in focus.
    ``away`` and ``clock_off`` go with a breakdown: how long it lasts, how wrong the wall clock is afterwards.
    """

    of: Words | None = None
    tray: Tray | None = None
    open: OpenText | None = None
    foot: Literal["press", "hold"] | None = None
    mark: Words | None = None
    take_back: Literal[True] | None = None
    note: Words | None = None
    pull: Literal[True] | None = None
    proceed: Literal[True] | None = None
    cut_short: Literal[True] | None = None
    change_water: Literal[True] | None = None
    turn: Literal[True] | None = None
    temperature: DegC | None = None
    set_aside: Words | None = None
    trust: Words | None = None
    take_up: TakeUpText | None = None
    abandon: Literal[True] | None = None
    safelight: Literal["on", "off"] | None = None
    away: Seconds | None = None
    clock_off: SignedSeconds | None = None


SELECTORS = ("of", "tray")
OF_A_BREAKDOWN = ("away", "clock_off")
TRAY_KEYS = tuple(
    key
    for key in TrayDeed.__struct_fields__
    if key not in {*UpkeepDeed.__struct_fields__, *SELECTORS, *OF_A_BREAKDOWN, *UPKEEP_KEYS}
)


def tray_act(deed: TrayDeed) -> acts.AnyAct | None:
    """Return the act that a deed stands for, for the tray in focus, or None where it is none of these."""
    if deed.open is not None:
        return _open(deed.open)
    if deed.mark is not None:
        return acts.Mark(what=deed.mark)
    if deed.note is not None:
        return acts.Note(text=deed.note)
    if deed.take_up is not None:
        away, doubt = deed.take_up.away, deed.take_up.doubt
        return acts.TakeUp(away_s=_plain(away), doubt_s=_plain(doubt))
    return _plain_act(deed) or _bench_act(deed)


def _plain_act(deed: TrayDeed) -> acts.AnyAct | None:
    plain: dict[str, acts.AnyAct] = {
        "take_back": acts.TakeBackMark(),
        "pull": acts.Pull(),
        "proceed": acts.Proceed(),
        "cut_short": acts.CutShort(),
        "change_water": acts.ChangeWater(),
        "abandon": acts.Abandon(),
    }
    return next((act for key, act in plain.items() if getattr(deed, key)), None)


def _bench_act(deed: TrayDeed) -> acts.AnyAct | None:
    if deed.temperature is not None:
        return acts.SayTemperature(bath_degC=float(deed.temperature))
    if deed.safelight is not None:
        return acts.SwitchSafelight(on=deed.safelight == "on")
    if deed.set_aside is not None:
        return acts.TrustProbe(probe=deed.set_aside, trusted=False)
    if deed.trust is not None:
        return acts.TrustProbe(probe=deed.trust, trusted=True)
    return None


def _open(text: OpenText) -> acts.OpenRun:
    return acts.OpenRun(
        plate=text.plate,
        routine=text.routine,
        others=text.others,
        box=text.box,
        dark=text.dark,
        lane=text.tray,
    )


def _plain(time_s: Seconds | None) -> float | None:
    return None if time_s is None else float(time_s)
