"""Reading an amount as an old book prints it, in the system of weights the book is known to use."""

from __future__ import annotations

import re
from dataclasses import dataclass
from typing import Literal

from firmware_py.craft.formula import Amount
from firmware_py.craft.refusal import Refused
from firmware_py.craft.units import kind_of, read_mass_g, read_number, read_volume_ml

Ounce = Literal["avoirdupois", "apothecaries"]
Measure = Literal["imperial", "U.S."]

_SAID = re.compile(r"\b(avoirdupois|av|apothecar\w*|troy|imperial|imp|u\.?s)\b", re.IGNORECASE)
_FLUID_OUNCE = re.compile(r"\b(?:fl(?:uid)?\.?\s*)(?:oz|ozs|ounces?)\b", re.IGNORECASE)
_OUNCE = re.compile(r"\b(?:oz|ozs|ounces?)\b\.?", re.IGNORECASE)
_MEASURE = re.compile(
    r"\b(?:pints?|pts?|gills?|quarts?|qts?|gallons?|minims?|fl(?:uid)?\.? ?(?:drachms?|drams?))\b",
    re.IGNORECASE,
)
_OUNCES = 'ounce = "avoirdupois" (437.5 gr) or "apothecaries" (480 gr) in [print], or the word after "oz"'
_MEASURES = 'measure = "imperial" (pint 568 ml) or "U.S." (pint 473 ml) in [print], or the word before it'
_PARTS = re.compile(r"\s*(.+?)\s*parts?\s*", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class System:
    """Which ounce and which fluid ounce a book uses, and whether its parts are grams in millilitres.

    None where the book, or its reader, does not say: such an ounce or pint is then refused.
    """

    ounce: Ounce | None = None
    measure: Measure | None = None
    parts: bool = False

    @property
    def said(self) -> str:
        """Get the system in words."""
        words = [f"{self.ounce} ounces"] if self.ounce else []
        words += [f"{self.measure} fluid ounces and pints"] if self.measure else []
        words += ["parts are grams in millilitres"] if self.parts else []
        return "; ".join(words)


def read_weighed(text: str, system: System, *, liquid: bool, where: str) -> Amount:
    """Return an amount of a salt: a mass, or for a liquid a volume; raise `Refused` for anything else."""
    if system.parts and (parts := _PARTS.fullmatch(text)):
        return Amount(text, grams=_above_zero(read_number(parts[1], where=where), text, where))
    full = _with_system(text, system, where)
    if not _is_volume(full, where):
        _refuse_liquid_ounce(text, liquid, where)
        return Amount(text, grams=_above_zero(read_mass_g(full, where=where), text, where))
    if not liquid:
        raise Refused(
            f'"{text}" is a volume, and a solid is weighed', where=where, allowed="a mass with its unit"
        )
    return Amount(text, volume_ml=_above_zero(read_volume_ml(full, where=where), text, where))


def read_water(text: str, system: System, *, where: str) -> tuple[Amount, bool]:
    """Return an amount of water, and whether it is what the solution is made up to ("to 10 oz")."""
    made_up = text.strip().lower().startswith("to ")
    plain = text.strip()[3:] if made_up else text
    if system.parts and (parts := _PARTS.fullmatch(plain)):
        volume_ml = read_number(parts[1], where=where)
    else:
        # an ounce of water is a measure, never a weight
        fluid = _OUNCE.sub("fl oz", _FLUID_OUNCE.sub("oz", plain))
        volume_ml = read_volume_ml(_with_system(fluid, system, where), where=where)
    return Amount(text, volume_ml=_above_zero(volume_ml, text, where)), made_up


def _with_system(text: str, system: System, where: str) -> str:
    """Write the book's own ounce and pint into the text where it names none."""
    if _SAID.search(text):
        return text
    if _FLUID_OUNCE.search(text) or _MEASURE.search(text):
        if system.measure is None:
            raise Refused(f'"{text}" does not say whose measure it is', where=where, allowed=_MEASURES)
        measure = "US" if system.measure == "U.S." else system.measure
        full = _FLUID_OUNCE.sub(f"{measure} fluid oz", text)
        return _MEASURE.sub(lambda found: f"{measure} {found[0]}", full)
    if _OUNCE.search(text):
        if system.ounce is None:
            raise Refused(f'"{text}" does not say which ounce it is', where=where, allowed=_OUNCES)
        return _OUNCE.sub(f"oz {system.ounce}", text)
    return text


def _refuse_liquid_ounce(text: str, liquid: bool, where: str) -> None:
    if liquid and _OUNCE.search(text) and not _SAID.search(text):
        raise Refused(
            f'"{text}" of a liquid may be a weight or a measure',
            where=where,
            allowed='"fl oz", or "oz avoirdupois" if it is weighed',
        )


def _is_volume(text: str, where: str) -> bool:
    try:
        return kind_of(text, where=where) == "volume"
    except Refused:
        return False


def _above_zero(value: float, text: str, where: str) -> float:
    if value > 0:
        return value
    raise Refused(f'"{text}" is nothing', where=where, allowed="above 0")
