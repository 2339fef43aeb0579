"""The formulas that come with Embertray, and a person's own: found by name, read from file."""

from __future__ import annotations

from collections.abc import Mapping
from difflib import get_close_matches
from functools import lru_cache
from importlib import resources
from pathlib import Path

from firmware_py.craft.formula import Formula
from firmware_py.craft.refusal import Refused
from firmware_py.data.formula_text import FormulaText
from firmware_py.strict_toml import read_toml


def read_formula(path: Path) -> Formula:
    """Return the formula in a file, called after the file; raise `Refused` with the place in the file."""
    return read_toml(path, FormulaText).formula(path.stem, str(path))


def formulas_in(folder: Path) -> dict[str, Formula]:
    """Return the formulas of every ``.toml`` file in a folder, by name."""
    return {path.stem: read_formula(path) for path in sorted(folder.glob("*.toml"))}


@lru_cache(maxsize=1)
def shipped_formulas() -> Mapping[str, Formula]:
    """Return the formulas that come with Embertray, by name."""
    with resources.as_file(resources.files("firmware_py.data") / "formulas") as folder:
        return formulas_in(folder)


def shipped_formula(name: str) -> Formula:
    """Return a shipped formula; raise `Refused` with the nearest names for an unknown one."""
    formulas = shipped_formulas()
    if name in formulas:
        return formulas[name]
    near = get_close_matches(name, formulas, n=2, cutoff=0.4) or list(formulas)
    raise Refused(f'no formula "{name[:60]}"', where="mix", allowed=f"{', '.join(near)}; see mix --list")
