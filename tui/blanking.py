"""When an idle screen goes black by itself, and what wakes it: any key, or a sound that calls for eyes."""

from __future__ import annotations

from firmware_py.facts.tunes import PATTERNS
from firmware_py.facts.views.bench import BenchView

# A person who hears one of these looks up, and must find something to read. What only answers a foot, or
# sets the pace of rocking, is understood by ear. `PATTERNS` stand in the order of their urgency.
CALLING = frozenset(list(PATTERNS)[list(PATTERNS).index("look") :])
AT_WORK = frozenset({"running", "due", "interrupted"})


class Blanking:
    """Black after ``after_s`` [s] without key or call (None: never), ``always`` or on an idle bench only."""

    def __init__(self, after_s: float | None = None, *, always: bool = False) -> None:
        self.is_black = False
        self._after_s = after_s
        self._always = always
        self._since_s: float | None = None
        self._sounds: int | None = None

    def wake(self, now_s: float) -> None:
        """Take in that a key was pressed."""
        self.is_black, self._since_s = False, now_s

    def look(self, view: BenchView | None, now_s: float, *, lost: bool) -> None:
        """Take in the bench as it is: who has lost the line to it, or has never seen it, must see that."""
        if self._after_s is None:
            return
        if self._since_s is None or view is None or lost or self._is_called(view) or self._is_kept_lit(view):
            self.wake(now_s)
        self.is_black = self._since_s is not None and now_s - self._since_s >= self._after_s

    def _is_called(self, view: BenchView) -> bool:
        """Return whether something new was sounded that a person must read about."""
        sounded = view.sounded
        before, self._sounds = self._sounds, sounded.number if sounded is not None else 0
        is_new = sounded is not None and before is not None and sounded.number != before
        return is_new and sounded is not None and sounded.tune in CALLING

    def _is_kept_lit(self, view: BenchView) -> bool:
        if self._always:
            return False
        busy = any(lane.state in AT_WORK for lane in view.lanes) or view.lamp.on
        return busy or any(notice.trouble for notice in view.notices)
