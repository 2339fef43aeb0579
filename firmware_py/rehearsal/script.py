"""A script that plays the person in a rehearsal: what to do, and when, as a TOML file."""

from __future__ import annotations

from importlib import resources
from pathlib import Path
from typing import Annotated, Literal

import msgspec

from firmware_py.rehearsal.breakdown import BREAKDOWNS
from firmware_py.rehearsal.print_script import LAMP_KEYS
from firmware_py.rehearsal.script_when import check_when
from firmware_py.rehearsal.tray_script import TRAY_KEYS, TrayDeed, Words
from firmware_py.rehearsal.upkeep_script import UPKEEP_KEYS
from firmware_py.strict_toml import DegC, Seconds, read_toml

FaultName = Literal[
    "probe silent",
    "probe at 85 degC",
    "probe jumps",
    "probe drifts",
    "probe well",
    "jacket probe silent",
    "jacket probe at 85 degC",
    "jacket probe jumps",
    "jacket probe drifts",
    "jacket probe well",
    "heater relay stuck",
    "heater dead",
    "heater well",
    "foot stuck",
    "foot well",
    "controller killed",
    "power cut",
]

# What can be done; each is a key of a deed.
DEEDS = (*TRAY_KEYS, "fault", *LAMP_KEYS, *UPKEEP_KEYS)


class WaterText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``[[water]]``: a bath of its own, with a probe in it, cooling from ``start`` towards ``room``."""

    bath: Words
    start: DegC
    room: DegC = DegC(15.0)
    half: Seconds = Seconds(2400.0)

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if not 60.0 <= self.half <= 86400.0:
            raise ValueError(f"`half` is {self.half:g} s; allowed: 60 s to 86400 s")


class Deed(TrayDeed, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``[[deed]]``: one thing done, at a time of the session, or once something is so, ``later`` after it.

    ``when`` speaks of the plate that the deed is for. ``fault`` befalls the ``probe`` that is named, or the
    usual one.
    """

    at: Seconds | None = None
    when: Words | None = None
    later: Seconds = Seconds(0.0)
    fault: FaultName | None = None
    probe: Words | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        super().__post_init__()
        if (self.at is None) == (self.when is None):
            raise ValueError("needs either `at` or `when`, and not both")
        if sum(getattr(self, key) is not None for key in DEEDS) != 1:
            raise ValueError(f"needs exactly one of {', '.join(f'`{key}`' for key in DEEDS)}")
        if self.of is not None and self.tray is not None:
            raise ValueError("is for the plate `of` a name or the one in a `tray`, not both")
        if self.open is not None and (self.of is not None or self.tray is not None):
            raise ValueError("`open` says its own plate and tray")
        if self.when is not None:
            check_when(self.when)
        for key, value in (("at", self.at), ("later", self.later), ("away", self.away)):
            if value is not None and not 0.0 <= value <= 86400.0:
                raise ValueError(f"`{key}` is {value:g} s; allowed: 0 s to 86400 s")
        if self.probe is not None and (self.fault is None or "probe" not in self.fault):
            raise ValueError("`probe` goes with a fault of a probe")
        if (self.away is not None or self.clock_off is not None) and self.fault not in BREAKDOWNS:
            raise ValueError(f"`away` and `clock_off` go with {', '.join(sorted(BREAKDOWNS))}")

    @property
    def sequence(self) -> str | int | None:
        """Get what tells the deeds that wait for each other: those for one plate, one tray, or neither."""
        return self.of if self.of is not None else self.tray


class Script(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A script file. Deeds for one plate (or for no special one) are done in the order they stand in."""

    title: Words
    deed: Annotated[list[Deed], msgspec.Meta(min_length=1, max_length=10_000)]
    water: Annotated[list[WaterText], msgspec.Meta(max_length=6)] = []

    def __post_init__(self) -> None:
        """Refuse times that go back, and two waters of one bath."""
        last: dict[str | int | None, float] = {}
        for number, deed in enumerate(self.deed, 1):
            before_s = last.get(deed.sequence, 0.0)
            if deed.at is not None and deed.at < before_s:
                raise ValueError(f"deed {number}: `at` {deed.at:g} s lies before {before_s:g} s of one above")
            last[deed.sequence] = before_s if deed.at is None else deed.at
        baths = [water.bath for water in self.water]
        if len(set(baths)) != len(baths):
            raise ValueError("two of `water` are one bath; each needs its own")


def read_script(path: Path) -> Script:
    """Return the script in a file. Raises Refused with file, key, what was found and what is allowed."""
    return read_toml(path, Script)


def script_called(path: Path) -> Script:
    """Return the script in a file, or the shipped one that is called so where there is no such file."""
    shipped = resources.files("firmware_py.data") / "scripts" / f"{path}.toml"
    if path.exists() or path.name != str(path) or not shipped.is_file():
        return read_script(path)
    return shipped_script(path.name)


def shipped_script(name: str) -> Script:
    """Return a script that comes with Embertray."""
    with resources.as_file(resources.files("firmware_py.data") / "scripts" / f"{name}.toml") as path:
        return read_script(path)
