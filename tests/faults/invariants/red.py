"""5. No byte of a non-red cell."""

from __future__ import annotations

from collections.abc import Iterator

from tests.faults.invariants.case import Case, Invariant, Verdict


def nothing_but_red(case: Case) -> Iterator[Verdict]:
    """Every byte that came to the terminal was read; none drew, or would draw, anything but red."""
    if case.played.red_drawn:
        yield Verdict(not case.played.red_faults, f"not red: {case.played.red_faults[:3]}")


INVARIANTS = (Invariant(5, "nothing but red", nothing_but_red),)
