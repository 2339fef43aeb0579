"""Which salt a person means, and how much of another does its work, mole for mole."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import lru_cache
from types import MappingProxyType

from firmware_py.craft.molar_mass import molar_mass_g_per_mol, without_water
from firmware_py.craft.refusal import Refused
from firmware_py.craft.shelf import FORBIDDEN, SHELF, Substance

LONGEST_NAME = 80

# a way of writing -> the one this room uses; the spelling of the trade's old books
_SPELLINGS: Mapping[str, str] = MappingProxyType(
    {
        "sulfite": "sulphite",
        "sulfate": "sulphate",
        "sulfide": "sulphide",
        "bisulfite": "bisulphite",
        "metabisulfite": "metabisulphite",
        "thiosulfate": "thiosulphate",
        "hyposulfite": "hyposulphite",
        "persulfate": "persulphate",
        "hemisulfate": "hemisulphate",
        "aluminum": "aluminium",
        "sod": "sodium",
        "pot": "potassium",
        "potass": "potassium",
    }
)
_FORM_WORDS: Mapping[str, str] = MappingProxyType(
    {
        word: form
        for form, words in {
            "anhydrous": "anhydrous anhyd dry dried desiccated dessicated exsiccated",
            "monohydrate": "monohydrate monohydrated mono",
            "sesquihydrate": "sesquihydrate",
            "pentahydrate": "pentahydrate penta",
            "heptahydrate": "heptahydrate hepta",
            "decahydrate": "decahydrate deca",
            "crystals": "crystals crystal cryst crys crystallised crystallized crystalline",
        }.items()
        for word in words.split()
    }
)
_SILENT = frozenset({"of", "the", "pure", "powder", "powdered"})


@dataclass(frozen=True, slots=True)
class Salt:
    """A substance in one of its forms, as it comes out of its jar. Source: own."""

    substance: Substance
    form: str

    @property
    def name(self) -> str:
        """Get the full name with its form. Source: own."""
        return f"{self.substance.name} {self.form}".strip()

    @property
    def formula(self) -> str:
        """Get the chemical formula with its crystal water. Source: textbook chemistry."""
        return self.substance.forms[self.form]

    @property
    def molar_mass_g_per_mol(self) -> float:
        """Get the mass of a mole [g/mol]. Source: Prohaska et al. 2022 (atomic weights)."""
        return molar_mass_g_per_mol(self.formula)

    @property
    def grams_per_active_mol(self) -> float:
        """Get the grams that hold a mole of what the salt is used for [g/mol]. Source: arithmetic."""
        return self.molar_mass_g_per_mol / (self.substance.per_mole * self._dry_units)

    @property
    def note(self) -> str:
        """Get what to know of a jar of it, or nothing. Source: the shelf's."""
        return self.substance.note if self.form == self.substance.crystals else ""

    @property
    def _dry_units(self) -> float:
        """A sesquihydrate's formula is written doubled; its dry part counts twice."""
        simplest = next(iter(self.substance.forms.values()))
        return molar_mass_g_per_mol(without_water(self.formula)) / molar_mass_g_per_mol(
            without_water(simplest)
        )


@dataclass(frozen=True, slots=True)
class Substitution:
    """How much of the salt at hand replaces another, and what to know about it. Source: own."""

    grams: float
    have: Salt
    instead_of: Salt
    remark: str = ""


def salt_named(text: str) -> Salt:
    """Return the salt that ``text`` means, by its modern or its old name, in any order of words.

    Raises `Refused` for an unknown name (with the nearest known ones), for a name that leaves open which
    hydrate is meant, for a form the substance does not have, and for mercury, cyanide, uranium and
    dichromate. Source: names are common practice.
    """
    words = _words(text)
    _refuse_forbidden(words)
    found = _formed_names().get(frozenset(words))
    if found is not None:
        return found
    form_words = [_FORM_WORDS[word] for word in words if word in _FORM_WORDS]
    bare = frozenset(word for word in words if word not in _FORM_WORDS)
    formed = _formed_names().get(bare)
    substance = formed.substance if formed else _plain_names().get(bare)
    if substance is None:
        raise _unknown(text)
    return _in_form(substance, form_words, text, usual=formed.form if formed else substance.usual)


def instead_of(needed_g: float, wanted: Salt, have: Salt) -> Substitution:
    """Return how much of ``have`` does the work of ``needed_g`` [g] of ``wanted``, mole for mole.

    Valid for hydrates of one salt, and between salts that act by the same part (sodium and potassium
    carbonate, the two caustics, the bromides, the bisulphites); raises `Refused` for any other pair and
    for less than 0 g.
    Source: arithmetic on Prohaska et al. 2022; that sodium and potassium salts swap: common practice.
    """
    if have.substance.active != wanted.substance.active:
        raise Refused(
            f"{have.name} can not do the work of {wanted.name}",
            where="substitution",
            allowed=", ".join(salt.name for salt in same_work_as(wanted)),
        )
    if not (0 <= needed_g < math.inf):
        raise Refused(f"{needed_g:g} g of {wanted.name}", where="substitution", allowed="0 g or more")
    grams = needed_g * have.grams_per_active_mol / wanted.grams_per_active_mol
    return Substitution(grams, have, wanted, _remark(wanted, have))


def same_work_as(salt: Salt) -> tuple[Salt, ...]:
    """Return every salt on the shelf that can stand in for ``salt``, itself among them. Source: own."""
    return tuple(other for other in every_salt() if other.substance.active == salt.substance.active)


def same_substance(one: Salt, other: Salt) -> bool:
    """Return whether two salts differ in crystal water at most. Source: own."""
    return one.substance.name == other.substance.name


@lru_cache(maxsize=1)
def every_salt() -> tuple[Salt, ...]:
    """Return every salt on the shelf in every form. Source: own."""
    return tuple(Salt(substance, form) for substance in SHELF for form in substance.forms)


def _remark(wanted: Salt, have: Salt) -> str:
    if same_substance(wanted, have):
        return ""
    if have.substance.name == "sodium bisulphite" or wanted.substance.name == "sodium bisulphite":
        return "Dry sodium bisulphite is sold mostly as metabisulphite: read the label."
    return "Another metal: the same moles, yet not quite the same bath. Try it on a spare plate first."


def _in_form(substance: Substance, form_words: list[str], text: str, *, usual: str | None) -> Salt:
    wanted = {substance.crystals or "" if form == "crystals" else form for form in form_words}
    if not wanted and usual is not None:
        return Salt(substance, usual)
    if len(wanted) == 1 and (form := wanted.pop()) in substance.forms:
        return Salt(substance, form)
    raise Refused(
        f'"{text.strip()}" does not say which form' if not form_words else f'no such form: "{text.strip()}"',
        where="salt",
        allowed=", ".join(Salt(substance, form).name for form in substance.forms),
    )


def _words(text: str) -> list[str]:
    if len(text) > LONGEST_NAME:
        raise Refused(f"a name of {len(text)} characters", where="salt", allowed=f"at most {LONGEST_NAME}")
    plain = re.sub(r"[(),;.]+|(?<=[a-z])-(?=[a-z])", " ", text.lower().replace("’", "'"))
    words = [_SPELLINGS.get(word, word) for word in plain.split()]
    words = [word for word in words if word not in _SILENT]
    return list(_soda_is_sodium(words))


def _soda_is_sodium(words: list[str]) -> Iterator[str]:
    """Read "sulphite soda" as sodium sulphite, but leave "caustic soda" and "washing soda" alone."""
    others = {word for word in words if word not in {"soda", "potash"} and word not in _FORM_WORDS}
    old_salt = bool(others) and all(re.search(r"(ate|ite|ide)$", word) for word in others)
    for word in words:
        yield {"soda": "sodium", "potash": "potassium"}.get(word, word) if old_salt else word


@lru_cache(maxsize=1)
def _plain_names() -> Mapping[frozenset[str], Substance]:
    return {frozenset(_words(name)): one for one in SHELF for name in (one.name, *one.names)}


@lru_cache(maxsize=1)
def _formed_names() -> Mapping[frozenset[str], Salt]:
    return {frozenset(_words(name)): Salt(one, form) for one in SHELF for name, form in one.formed.items()}


def _refuse_forbidden(words: list[str]) -> None:
    for word in words:
        if word in FORBIDDEN:
            raise Refused(
                f"Embertray reckons nothing with {FORBIDDEN[word]}: too much danger for what it does",
                where="salt",
            )


def _unknown(text: str) -> Refused:
    known = sorted({name for one in SHELF for name in (one.name, *one.names, *one.formed)})
    near = get_close_matches(text.strip().lower(), known, n=3, cutoff=0.6)
    hint = "names spelled most like it: " + ", ".join(near) if near else "the names in the manual under `mix`"
    return Refused(f'no salt called "{text.strip()}" is known', where="salt", allowed=hint)
