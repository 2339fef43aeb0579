"""``embertray reckon salts``: one salt for another by the mole, and percentage solutions."""

from __future__ import annotations

import argparse
from collections.abc import Mapping

from firmware_py.craft.mixing import bath_cautions
from firmware_py.craft.percentage import grams_for, percent_by_grains
from firmware_py.craft.refusal import Refused
from firmware_py.craft.salts import Salt, instead_of, salt_named, same_work_as
from firmware_py.craft.units import read_mass_g, read_number
from tui.commands.reckonings.own_unit import bare_ml
from tui.commands.reckonings.topic import Answer, Json, Topic


def _declare(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--have", metavar="SALT", help="the salt in the jar")
    parser.add_argument("--for", dest="wanted", metavar="'MASS SALT'", help="what the formula asks for")
    parser.add_argument("--salt", metavar="SALT", help="what is known of a salt")
    parser.add_argument("--percent", metavar="N", help="strength of a solution, per cent weight in volume")
    parser.add_argument("--make", metavar="VOLUME", help="how much of the solution")
    parser.add_argument(
        "--by-grains", action="store_true", help="the old per cent: grains in 100 imperial minims, not true"
    )


def _reckon(args: argparse.Namespace) -> Answer:
    if args.have and args.wanted:
        return _substitution(args.have, args.wanted)
    if args.salt and args.percent and args.make:
        return _solution(args)
    if args.salt and not (args.percent or args.make):
        return _description(salt_named(args.salt))
    raise Refused(
        "not enough to reckon with",
        where="reckon salts",
        allowed="--have SALT --for 'MASS SALT', or --salt SALT, or --salt SALT --percent N --make VOLUME",
    )


def _substitution(have_text: str, wanted_text: str) -> Answer:
    have = salt_named(have_text)
    needed_g, wanted = _mass_and_salt(wanted_text)
    swap = instead_of(needed_g, wanted, have)
    factor = have.grams_per_active_mol / wanted.grams_per_active_mol
    cautions = _cautions(have)
    lines = [
        *_warned(cautions),
        f"{swap.grams:.4g} g of {have.name} for {needed_g:.4g} g of {wanted.name}",
        f"  {factor:.4f} g for each gram: {_mole(have)}; {_mole(wanted)}",
    ]
    remarks = [line for line in (swap.remark, have.note) if line]
    lines += [f"  {line}" for line in remarks]
    values: Mapping[str, Json] = {
        "grams": swap.grams,
        "have": have.name,
        "for_grams": needed_g,
        "for": wanted.name,
        "grams_for_each_gram": factor,
        "have_g_per_mol": have.molar_mass_g_per_mol,
        "for_g_per_mol": wanted.molar_mass_g_per_mol,
        "remarks": remarks,
        "cautions": list(cautions),
    }
    return Answer(values, tuple(lines))


def _solution(args: argparse.Namespace) -> Answer:
    salt = salt_named(args.salt)
    named = read_number(args.percent, where="--percent", low=0, high=100)
    volume_ml = bare_ml(args.make, where="--make")
    percent = percent_by_grains(named) if args.by_grains else named
    grams = grams_for(percent, volume_ml)
    cautions = _cautions(salt)
    made = f"{grams:.4g} g of {salt.name}, and water to make {volume_ml:.4g} ml: {percent:.4g} % w/v"
    lines = [*_warned(cautions), made]
    values: Mapping[str, Json] = {
        "grams": grams,
        "salt": salt.name,
        "volume_ml": volume_ml,
        "percent_w_v": percent,
        "cautions": list(cautions),
    }
    return Answer(values, tuple(lines))


def _description(salt: Salt) -> Answer:
    others = [other.name for other in same_work_as(salt) if other.name != salt.name]
    also = [*salt.substance.names, *salt.substance.formed]
    cautions = _cautions(salt)
    lines = [f"{salt.name}: {_mole(salt)}"]
    if also:
        lines.append(f"  also called: {', '.join(also)}")
    if others:
        lines.append(f"  does the work of: {', '.join(others)}")
    lines += [f"  {line}" for line in (salt.note, *_warned(cautions), *_sheet(salt)) if line]
    values: Mapping[str, Json] = {
        "salt": salt.name,
        "formula": salt.formula,
        "molar_mass_g_per_mol": salt.molar_mass_g_per_mol,
        "also_called": also,
        "does_the_work_of": others,
        "cautions": list(cautions),
        "data_sheet": salt.substance.hazards.sheet or None,
    }
    return Answer(values, tuple(lines))


def _cautions(salt: Salt) -> tuple[str, ...]:
    return bath_cautions((salt.substance.name,), ())


def _warned(cautions: tuple[str, ...]) -> list[str]:
    return [f"! {caution}" for caution in cautions]


def _sheet(salt: Salt) -> tuple[str, ...]:
    sheet = salt.substance.hazards.sheet
    return (f"cautions by: {sheet}",) if sheet else ()


def _mole(salt: Salt) -> str:
    return f"{salt.formula}, {salt.molar_mass_g_per_mol:.2f} g/mol"


def _mass_and_salt(text: str) -> tuple[float, Salt]:
    """Split "100 g sodium carbonate decahydrate" where the longest readable mass ends."""
    words = text.split()
    for end in range(len(words) - 1, 0, -1):
        try:
            needed_g = read_mass_g(" ".join(words[:end]), where="--for")
        except Refused:
            continue
        return needed_g, salt_named(" ".join(words[end:]))
    first = next((place for place, word in enumerate(words) if any(map(str.isalpha, word))), 0)
    read_mass_g(" ".join(words[: first + 1]), where="--for")
    raise Refused(f'"{text}" names no salt', where="--for", allowed="such as '100 g washing soda'")


TOPIC = Topic(_declare, _reckon)
