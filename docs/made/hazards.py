"""What each substance can do to a person, as the cards say it, and by which sheet."""

from __future__ import annotations

from docs.made.tables import table
from firmware_py.craft.hazards import HAZARDS


def hazards_part() -> str:
    """Return a row for every substance on the shelf."""
    rows = [
        (name, hazards.words, ", ".join(hazards.codes) or "-", hazards.sheet or "none read")
        for name, hazards in sorted(HAZARDS.items())
    ]
    return table(("substance", "it", "codes (GHS, EUH)", "sheet that was read"), rows)
