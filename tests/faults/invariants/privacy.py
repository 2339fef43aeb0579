"""6. Nothing another user may read or write; nothing written outside the state folder."""

from __future__ import annotations

from collections.abc import Iterator

from tests.faults.invariants.case import Case, Invariant, Verdict


def shut_to_others(case: Case) -> Iterator[Verdict]:
    """No file's mode lets others in, and no other user got at anything when he tried."""
    yield Verdict(
        not case.played.leftovers.strangers_may, f"open to others: {case.played.leftovers.strangers_may}"
    )
    for struck in case.was("another user"):
        got = struck.notes["a stranger got at"]
        yield Verdict(not got, f"another user got at {got}")


def keeps_to_its_folder(case: Case) -> Iterator[Verdict]:
    """Nothing was made beside the state folder, in the home, or where a message named a path."""
    found = case.played.leftovers.out_of_place
    yield Verdict(not found, f"made outside the state folder: {found}")


INVARIANTS = (
    Invariant(6, "shut to other users", shut_to_others),
    Invariant(6, "keeps to its folder", keeps_to_its_folder),
)
