"""What a mole of a substance weighs, computed from its chemical formula."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache
from types import MappingProxyType

from firmware_py.craft.refusal import Refused

# Abridged standard atomic weights: Prohaska et al., "Standard atomic weights of the elements 2021", Pure
# Appl. Chem. 94 (2022) 573. Typed from memory; tests/reference holds every salt against molmass.
ATOMIC_WEIGHTS: Mapping[str, float] = MappingProxyType(
    {
        "H": 1.008,
        "B": 10.81,
        "C": 12.011,
        "N": 14.007,
        "O": 15.999,
        "Na": 22.990,
        "Al": 26.982,
        "S": 32.06,
        "Cl": 35.45,
        "K": 39.098,
        "Cr": 51.996,
        "Mn": 54.938,
        "Fe": 55.845,
        "Br": 79.904,
        "I": 126.90,
    }
)

WATER = "H2O"

_TOKEN = re.compile(r"([A-Z][a-z]?)(\d*)|(\()|(\))(\d*)")
_GROUP = re.compile(r"(\d*)(.+)")


@lru_cache(maxsize=256)
def molar_mass_g_per_mol(formula: str) -> float:
    """Return the mass of a mole [g/mol] of ``formula``, such as "Na2CO3·10H2O" or "C6H4(OH)2".

    A raised dot joins crystal water and the like. Valid for the elements of `ATOMIC_WEIGHTS`; raises
    `Refused` for another element or a formula that can not be read.
    Source: Prohaska et al. 2022 (atomic weights); the sum is arithmetic.
    """
    atoms = atoms_in(formula)
    return sum(_weight(element, formula) * number for element, number in atoms.items())


def atoms_in(formula: str) -> Counter[str]:
    """Return how many atoms of each element stand in ``formula``; raise `Refused` if it can not be read.

    Source: own.
    """
    total: Counter[str] = Counter()
    for group in formula.replace("*", "·").split("·"):
        number, rest = _leading_number(group, formula)
        for element, count in _atoms_of_group(rest, formula).items():
            total[element] += number * count
    return total


def without_water(formula: str) -> str:
    """Return ``formula`` without the crystal water written after a raised dot. Source: own."""
    first, *rest = formula.split("·")
    dry = [group for group in rest if _leading_number(group, formula)[1] != WATER]
    return "·".join([first, *dry])


def _leading_number(group: str, formula: str) -> tuple[int, str]:
    match = _GROUP.fullmatch(group.strip())
    if match is None:
        raise _unreadable(formula)
    return int(match[1] or 1), match[2]


def _atoms_of_group(text: str, formula: str) -> Counter[str]:
    """Count atoms with a stack: each open bracket begins a new count, its closing multiplies it."""
    stack: list[Counter[str]] = [Counter()]
    place = 0
    while place < len(text):
        token = _TOKEN.match(text, place)
        if token is None:
            raise _unreadable(formula)
        _take(token, stack, formula)
        place = token.end()
    if len(stack) != 1:
        raise _unreadable(formula)
    return stack[0]


def _take(token: re.Match[str], stack: list[Counter[str]], formula: str) -> None:
    element, number, opening, _closing, times = token.groups()
    if element:
        stack[-1][element] += int(number or 1)
        return
    if opening:
        stack.append(Counter())
        return
    if len(stack) == 1:
        raise _unreadable(formula)
    for inner, count in stack.pop().items():
        stack[-1][inner] += count * int(times or 1)


def _weight(element: str, formula: str) -> float:
    weight = ATOMIC_WEIGHTS.get(element)
    if weight is None:
        raise Refused(
            f'no atomic weight for "{element}" in "{formula}"',
            where="chemical formula",
            allowed=", ".join(ATOMIC_WEIGHTS),
        )
    return weight


def _unreadable(formula: str) -> Refused:
    return Refused(
        f'"{formula}" can not be read',
        where="chemical formula",
        allowed='such as "Na2CO3·10H2O" or "C6H4(OH)2"',
    )
