"""A pull that was a mistake: for a while the plate can go back into its developer, and the count goes on.

The rule: the developer that is carried in the gelatine goes on working, and a plate that never left its dish
(a key pressed by mistake) lay in it all the time. So the seconds between count as development, at the rate of
the bath; they are at the same time a doubt of the step, as nobody knows where the plate was. Source: own.
A plate that has been in a stop bath does not develop on like that, and the bench cannot know it: key and
manual say that it is not for such a plate. Once a mark or a change of water says that it lies in the next
bath, or another step has begun, it is refused.
"""

from __future__ import annotations

from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import run as ev

# Long enough to see what was pressed; short enough that a plate has not lain in its stop bath for long. Own.
TAKE_BACK_S = 15.0


class TakingBack:
    """Offers to take a pull back, and does it."""

    def __init__(self, scribe: Scribe, notices: Notices) -> None:
        self._scribe = scribe
        self._notices = notices

    def offer(self, lane: Lane) -> None:
        """Offer it for a while, now that the plate of a lane was pulled; not where that ended its run."""
        if lane.here is not None:
            lane.back_until_s = self._scribe.clock.now_s() + TAKE_BACK_S

    def is_over(self, lane: Lane, now_s: float) -> bool:
        """Return whether the time to take a pull back has just run out; it is not offered any more."""
        if lane.back_until_s is None or now_s < lane.back_until_s:
            return False
        lane.back_until_s = None
        self._scribe.revision += 1
        return True

    def take_back(self, lane: Lane) -> None:
        """Put the plate back. Raises Refused where no pull is so new, or something was done since."""
        record, now_s = lane.record, self._scribe.clock.now_s()
        pulled = record.steps[-2] if len(record.steps) > 1 else None
        until_s, is_open = lane.back_until_s, pulled is not None and record.can_go_back(pulled.step)
        if pulled is None or not is_open or until_s is None or now_s > until_s or lane.away is not None:
            raise Refused(
                f"no pull can be taken back in tray {lane.number}",
                where="take back",
                allowed=f"within {TAKE_BACK_S:g} s of a pull, before anything else is done with the plate",
            )
        out_s = now_s - (until_s - TAKE_BACK_S)
        known = lane.thermometers.of_step(lane.number, record.plan(pulled)).believed(now_s)
        event = ev.PullTakenBack(step=pulled.step, out_s=out_s)
        if known is not None:
            event = ev.PullTakenBack(
                step=pulled.step,
                out_s=out_s,
                bath_degC=known.bath_degC,
                tolerance_K=known.tolerance_K,
                source=known.source,
            )
        self._scribe.write(record, event)
        lane.back_until_s = None
        lane.is_outside = False
        lane.cues.go_back(now_s)
        name = record.plan(pulled).name
        words = f"{lane.words}: back in {name}, {out_s:.0f} s out counted as development"
        self._notices.say("pull taken back", words, now_s, about=lane.number)
        self._scribe.play("heard")
