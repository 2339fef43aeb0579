"""7. After the storm: nothing is left, the next start needs no cleaning, every end is a known one."""

from __future__ import annotations

import re
import signal
from collections.abc import Iterator

from tests.faults.invariants.case import Case, Invariant, Verdict
from tests.faults.stage.hosted import Ended

# A refusal is one line; so is what the switchboard's watch says of a listener. Nothing else is said.
LINE = re.compile(r"embertray: .+")
# What the controller logs of its ordinary work goes the same way (`firmware_py.service.logs`).
LOGGED = re.compile(r"(INFO|WARNING) embertray[.\w]*: .+")


def nothing_is_left(case: Case) -> Iterator[Verdict]:
    """No process, no open file, no lock, no socket."""
    left = case.played.leftovers
    yield Verdict(not left.processes, f"processes left: {left.processes}")
    yield Verdict(not left.handles, f"files held open: {left.handles}")
    yield Verdict(not left.lock, "the book's lock is still held")
    yield Verdict(not left.socket, "the socket is still there")


def every_relay_is_off(case: Case) -> Iterator[Verdict]:
    """All pins are at their safe level."""
    for name, spans in case.relays.items():
        yield Verdict(not spans or spans[-1].off_s < float("inf"), f"{name} is still on")


def comes_back_by_itself(case: Case) -> Iterator[Verdict]:
    """The bench was back once the faults were over, ended in good order, and the next start answers."""
    played = case.played
    yield Verdict(played.came_up, "it never came up")
    yield Verdict(played.came_back, "it did not come back when the faults were over")
    yield Verdict(
        played.last_end is not None and played.last_end.status == 0, f"at the end: {played.last_end}"
    )
    yield Verdict(played.next_answered, "the next start does not answer")
    after = played.next_start
    yield Verdict(after is not None and after.status == 0, f"the next start ended otherwise: {after}")


def ends_in_known_ways(case: Case) -> Iterator[Verdict]:
    """A controller ends when it is told to, or refuses to start in one line; it never breaks down."""
    for ended in case.evidence.ended:
        yield Verdict(_is_known(ended, case), f"ended with {ended.status}: {ended.said[-400:]!r}")
        strange = [line for line in _said(ended) if not LINE.match(line)]
        yield Verdict(not strange or _may_break(case), f"said more than its line: {strange[-3:]}")


def the_screen_never_fails(case: Case) -> Iterator[Verdict]:
    """The screen kept no traceback of its own."""
    kept = case.played.folder.state / "screen-faults.txt"
    words = kept.read_text(encoding="utf-8", errors="replace") if kept.exists() else ""
    if case.played.red_drawn:
        yield Verdict(not words or _may_break(case), f"the screen failed: {words[-700:]!r}")


def _said(ended: Ended) -> list[str]:
    """What it said, its log left out."""
    return [line for line in ended.said.splitlines() if not LOGGED.match(line)]


def _is_known(ended: Ended, case: Case) -> bool:
    if ended.status == 0 or (ended.told and ended.status == -signal.SIGKILL):
        return True
    return (ended.status == 1 and any(map(LINE.match, _said(ended)))) or _may_break(case)


def _may_break(case: Case) -> bool:
    """Without memory, nobody can promise a good end."""
    return bool(case.was("no memory"))


INVARIANTS = (
    Invariant(7, "nothing is left", nothing_is_left),
    Invariant(7, "every relay is off", every_relay_is_off),
    Invariant(7, "it comes back by itself, and the next start too", comes_back_by_itself),
    Invariant(7, "it ends in known ways", ends_in_known_ways),
    Invariant(7, "the screen never fails", the_screen_never_fails),
)
