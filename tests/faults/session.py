"""Plays one planned session from the first start to the last, and hands over what was seen of it."""

from __future__ import annotations

import ctypes
import shutil
import signal
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from tests.faults.evidence import Evidence, Struck
from tests.faults.eyes.afterwards import Leftovers, left_over
from tests.faults.person import Person
from tests.faults.plan import AFTER_s, Blow, Plan
from tests.faults.stage.folder import BenchFolder
from tests.faults.stage.hosted import Ended
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage

# A fault that waits for light or for a plate waits no longer than this [s].
COMES_WITHIN_S = 3.0
BACK_WITHIN_S = 20.0
_PR_SET_CHILD_SUBREAPER = 36


@dataclass
class Played:
    """A session that is over, with all that it left for an observer."""

    plan: Plan
    folder: BenchFolder
    evidence: Evidence
    came_up: bool
    came_back: bool
    last_end: Ended | None
    leftovers: Leftovers
    next_start: Ended | None
    next_answered: bool
    red_faults: list[str]
    red_drawn: int


def adopt_orphans() -> None:
    """Let every process that loses its parent become ours, so that none can hide from the observer."""
    ctypes.CDLL(None).prctl(_PR_SET_CHILD_SUBREAPER, 1, 0, 0, 0)


@contextmanager
def bench_folder(plan: Plan, parent: Path | None = None, *, keep: bool = False) -> Iterator[BenchFolder]:
    """A folder for the session, gone afterwards."""
    root = Path(tempfile.mkdtemp(prefix="storm-", dir=parent))
    root.chmod(0o755)
    folder = BenchFolder(root, small_disk=plan.small_disk)
    try:
        yield folder
    finally:
        folder.state.chmod(0o700)
        if not keep:
            folder.clean_up()
            shutil.rmtree(root)


def play(plan: Plan, folder: BenchFolder, *, defect: str = "") -> Played:
    """Play a session to its end."""
    adopt_orphans()
    stage = Stage(folder, defect=defect, with_screen=plan.with_screen)
    try:
        return _Session(plan, stage).play()
    finally:
        stage.close()


class _Session:
    def __init__(self, plan: Plan, stage: Stage) -> None:
        self._plan = plan
        self._stage = stage
        self._dice = plan.dice
        self._person = Person(stage, plan.errands, plan.dice, uses_foot=plan.uses_foot)
        self._going_on: list[tuple[Blow, Struck]] = []

    def play(self) -> Played:
        stage = self._stage
        came_up = stage.raise_up()
        waiting = sorted(self._plan.blows, key=lambda blow: blow.after_s)
        began_s = now_s()
        while waiting or self._going_on:
            self._live()
            if waiting and self._is_time_for(waiting[0], began_s):
                self._strike(waiting.pop(0))
        came_back = stage.play_until(self._is_back, BACK_WITHIN_S)
        after_s = now_s() + AFTER_s
        while now_s() < after_s:
            self._live()
        self._person.lift()
        return self._end(came_up, came_back)

    def _live(self) -> None:
        self._stage.step()
        self._person.live()
        for blow, struck in list(self._going_on):
            if now_s() >= struck.at_s + self._lasts_s(blow, struck):
                blow.kind.heal(self._stage, struck)
                struck.over_s = now_s()
                self._going_on.remove((blow, struck))
            else:
                blow.kind.hold(self._stage, struck)

    def _lasts_s(self, blow: Blow, struck: Struck) -> float:
        withheld_s = self._stage.stall.within(struck.at_s, now_s()) if blow.kind.judged_after_s else 0.0
        return max(blow.lasts_s, blow.kind.judged_after_s + withheld_s)

    def _is_time_for(self, blow: Blow, began_s: float) -> bool:
        past_s = now_s() - began_s - blow.after_s
        if past_s < 0:
            return False
        if past_s > COMES_WITHIN_S or not blow.waits_for:
            return True
        return self._stage.lamp_is_lit() if blow.waits_for == "light" else self._stage.plate_is_in()

    def _strike(self, blow: Blow) -> None:
        struck = Struck(blow.fault, now_s())
        blow.kind.strike(self._stage, self._dice, struck)
        self._stage.evidence.struck.append(struck)
        self._going_on.append((blow, struck))

    def _is_back(self) -> bool:
        stage = self._stage
        return stage.view is not None and stage.controller is not None and stage.switchboard() is not None

    def _end(self, came_up: bool, came_back: bool) -> Played:
        stage = self._stage
        ended = stage.wind_up()
        stage.evidence.over_s = now_s()
        leftovers = left_over(stage.folder)
        answered, after = self._start_once_more()
        terminal = stage.terminal
        return Played(
            self._plan,
            stage.folder,
            stage.evidence,
            came_up,
            came_back,
            ended,
            leftovers,
            after,
            answered,
            terminal.faults if terminal else [],
            terminal.drawn if terminal else 0,
        )

    def _start_once_more(self) -> tuple[bool, Ended | None]:
        """Start the bench as the next evening would, with nothing cleaned up, and end it at once."""
        stage = self._stage
        stage.start_controller()
        answered = stage.play_until(lambda: stage.view is not None, BACK_WITHIN_S)
        controller = stage.controller
        if controller is None:
            return answered, stage.evidence.ended[-1]
        controller.signal(signal.SIGTERM)
        return answered, controller.wait(BACK_WITHIN_S)
