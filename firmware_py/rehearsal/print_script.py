"""What a script's person can do at the lamp: the pieces of a deed, and the acts they stand for."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.craft.strips import Method
from firmware_py.facts.acts import print as pa
from firmware_py.facts.events.print import LampMode
from firmware_py.strict_toml import Millimetres, Seconds

Words = Annotated[str, msgspec.Meta(min_length=1, max_length=200)]


class PrintText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``print = { negative = "…", paper = "…" }``."""

    negative: Words
    paper: Words
    grade: str = ""
    paper_log_range: float | None = None
    paper_speed: float | None = None
    distance: Millimetres | None = None


class StripText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``strip = { patches = 7, step = 0.5, middle = "8 s" }``; the step in stops."""

    middle: Seconds
    patches: Annotated[int, msgspec.Meta(ge=2, le=24)] = 7
    step: Annotated[float, msgspec.Meta(ge=0.01, le=4.0)] = 0.5
    method: Method = "covering"


class BurnText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``burn = { stops = 0.5, place = "sky" }``."""

    stops: Annotated[float, msgspec.Meta(gt=0.0, le=6.0)]
    place: str = ""


class LampDeed(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The keys of a deed that concern the lamp."""

    serve: Literal["lamp", "trays"] | None = None
    print: PrintText | None = None
    strip: StripText | None = None
    choose: Annotated[float, msgspec.Meta(ge=1.0, le=24.0)] | None = None
    base: Seconds | None = None
    burn: BurnText | None = None
    copies: Annotated[int, msgspec.Meta(ge=1, le=999)] | None = None
    lamp_mode: LampMode | None = None
    light: Literal["on", "off"] | None = None
    sheet: Literal["finish", "give up", "forgo the rest"] | None = None
    bathe: Words | None = None
    verdict: Words | None = None


LAMP_KEYS = LampDeed.__struct_fields__


def lamp_act(deed: LampDeed) -> pa.AnyPrintAct | None:
    """Return the act at the lamp that a deed stands for, or None where it is none."""
    if deed.print is not None:
        return _open(deed.print)
    if deed.strip is not None:
        strip = deed.strip
        return pa.PlanStrip(
            patches=strip.patches, step_stops=strip.step, middle_s=float(strip.middle), method=strip.method
        )
    if deed.burn is not None:
        return pa.AddBurn(stops=deed.burn.stops, place=deed.burn.place)
    return _choice(deed) or _sheet(deed)


def _open(text: PrintText) -> pa.OpenPrint:
    return pa.OpenPrint(
        negative=text.negative,
        paper=text.paper,
        grade=text.grade,
        paper_log_range=text.paper_log_range,
        paper_speed=text.paper_speed,
        distance_mm=None if text.distance is None else float(text.distance),
    )


def _choice(deed: LampDeed) -> pa.AnyPrintAct | None:
    if deed.serve is not None:
        return pa.ServeFoot(to=deed.serve)
    if deed.choose is not None:
        return pa.ChoosePatch(place=deed.choose)
    if deed.base is not None:
        return pa.SetBase(base_s=float(deed.base))
    if deed.copies is not None:
        return pa.WantCopies(copies=deed.copies)
    return None if deed.lamp_mode is None else pa.ChooseLampMode(mode=deed.lamp_mode)


def _sheet(deed: LampDeed) -> pa.AnyPrintAct | None:
    if deed.light is not None:
        return pa.Expose() if deed.light == "on" else pa.PutOut()
    if deed.bathe is not None:
        return pa.BatheSheet(routine=deed.bathe)
    if deed.verdict is not None:
        return pa.GiveVerdict(verdict=deed.verdict)
    ends: dict[str, pa.AnyPrintAct] = {
        "finish": pa.FinishSheet(),
        "give up": pa.GiveUpSheet(),
        "forgo the rest": pa.ForgoRest(),
    }
    return ends[deed.sheet] if deed.sheet is not None else None
