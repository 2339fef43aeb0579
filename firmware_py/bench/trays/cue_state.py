"""Which cues of the step going on have been given."""

from __future__ import annotations

from dataclasses import dataclass, field

from firmware_py.bench.trays.cues import Cue, StepTimes, schedule

# A cue that is this near is due: rounding must not make a moment that never comes.
REACHED_S = 1e-9


@dataclass(slots=True)
class CueState:
    """The cues that one tray was given in this step, and the last of all."""

    last: Cue | None = None
    _until_s: float = 0.0
    _given: set[str] = field(default_factory=set)
    _given_before: set[str] = field(default_factory=set)

    def begin_step(self, now_s: float) -> None:
        """Forget the cues of the step before; what comes again comes again from now on."""
        self._given_before, self._given = self._given, set()
        self._until_s = now_s

    def go_back(self, now_s: float) -> None:
        """Go on with the step before: what it was given is not given again."""
        self._given = self._given_before
        self._until_s = now_s

    def take(self, times: StepTimes, now_s: float) -> list[Cue]:
        """Return the cues that have fallen due by now, each once, in the order of their moments."""
        coming = schedule(times, self._until_s, self._given, now_s)
        due = [cue for cue in coming if cue.due_s <= now_s + REACHED_S]
        self._given.update(cue.key for cue in due)
        self._until_s = now_s
        due.sort(key=lambda cue: cue.due_s)
        self.last = due[-1] if due else self.last
        return due

    def next(self, times: StepTimes, now_s: float) -> Cue | None:
        """Return the next cue to come."""
        coming = schedule(times, max(now_s, self._until_s), self._given)
        return min(coming, key=lambda cue: cue.due_s, default=None)
