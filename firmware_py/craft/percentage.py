"""Percentage solutions, by grams and millilitres and by the old grains and minims."""

from __future__ import annotations

from firmware_py.craft.refusal import Refused
from firmware_py.craft.units import read_mass_g, read_number, read_volume_ml

GRAIN_G = 0.06479891  # exact: international yard and pound agreement, 1959
IMPERIAL_MINIM_ML = 28.4130625 / 480  # exact: Units of Measurement Regulations 1995 (UK)

# A grain in a minim, as grams in a millilitre: what the old "per cent" has too much.
GRAIN_PER_MINIM_G_PER_ML = GRAIN_G / IMPERIAL_MINIM_ML

STRONGEST_PERCENT = 100.0


def grams_for(percent: float, volume_ml: float) -> float:
    """Return the grams [g] in ``volume_ml`` [ml] of a solution of ``percent`` [% w/v, g in 100 ml].

    Valid above 0 and up to 100 %; raises `Refused` outside. Source: definition of per cent weight in volume.
    """
    return _sound(percent) * _positive(volume_ml) / 100


def volume_holding_ml(grams: float, percent: float) -> float:
    """Return the volume [ml] of a solution of ``percent`` [% w/v] that holds ``grams`` [g].

    Valid above 0 and up to 100 %; raises `Refused` outside. Source: definition of per cent weight in volume.
    """
    return grams * 100 / _sound(percent)


def percent_by_grains(grains_in_100_minims: float) -> float:
    """Return the true strength [% w/v] of a solution of so many grains in 100 imperial minims.

    The old books' "ten per cent" is 10.95 %, because a fluid ounce has 480 minims of water that weigh
    437.5 grains. Valid up to 100 %; raises `Refused` outside. Source: exact definitions of grain and minim;
    the old usage is described in E. J. Wall, *Dictionary of Photography*, "Weighing and measuring" (seen).
    """
    return _sound(grains_in_100_minims) * GRAIN_PER_MINIM_G_PER_ML


def read_strength_g_per_l(text: str, *, where: str) -> float:
    """Read a strength [g/l]: "250 g/l", "350 g / 1000 ml", "25 %" (weight in volume).

    Valid for 0 g/l and more; refuses what is no strength. Source: own.
    """
    if text.strip().endswith("%"):
        return read_number(text.strip()[:-1], where=where, low=0, high=STRONGEST_PERCENT) * 10
    mass, slash, volume = text.partition("/")
    if not slash:
        raise Refused(f'"{text[:40]}" is not a strength', where=where, allowed='such as "250 g/l" or "25 %"')
    each = volume if any(map(str.isdigit, volume)) else f"1 {volume}"
    return read_mass_g(mass, where=where) / _positive(read_volume_ml(each, where=where)) * 1000


def _sound(percent: float) -> float:
    if 0 < percent <= STRONGEST_PERCENT:
        return percent
    raise Refused(f"{percent:g} % is no strength", where="percentage", allowed="above 0 and up to 100 %")


def _positive(volume_ml: float) -> float:
    if volume_ml > 0:
        return volume_ml
    raise Refused(f"{volume_ml:g} ml is no volume", where="percentage", allowed="above 0 ml")
