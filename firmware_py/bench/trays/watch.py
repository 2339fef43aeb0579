"""What time and probes bring to the trays: cues, ends of steps, readings, signs of life."""

from __future__ import annotations

from collections.abc import Iterable

from firmware_py.bench.notices import Notices
from firmware_py.bench.scribe import Scribe
from firmware_py.bench.trays.cues import Cue
from firmware_py.bench.trays.due import REACHED_S, Due, due
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.step_times import step_times
from firmware_py.bench.trays.stepping import Stepping
from firmware_py.bench.trays.taking_back import TakingBack
from firmware_py.bench.warmth.thermometry import Thermometer
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Step
from firmware_py.devices.probe import Reading
from firmware_py.facts.events import run as ev
from firmware_py.facts.tunes import URGENCY

# How often the temperature that is only believed is put into the run while no probe speaks.
TREND_EVERY_S = 1.0
# A bath that is no developer changes nothing in seconds: its readings are kept this often.
OTHER_BATHS_EVERY_S = 30.0
# A run with nothing to tell says that it was watched: a power cut is then dated to these seconds.
ALIVE_EVERY_S = 10.0
# A run that can not be written is tried again after this.
STALLED_S = 1.0
# Back inside its window by this much, a bath is inside again.
WINDOW_MARGIN_K = 0.2


class Watch:
    """Looks after every tray, each for itself: what goes wrong in one holds up no other."""

    def __init__(self, stepping: Stepping, scribe: Scribe, notices: Notices, taking_back: TakingBack) -> None:
        self._taking_back = taking_back
        self._stepping = stepping
        self._scribe = scribe
        self._notices = notices

    # --- readings ---

    def heard(self, lanes: Iterable[Lane], thermometer: Thermometer, reading: Reading) -> None:
        """Write a believed reading into every run whose plate lies in that bath."""
        for lane in lanes:
            if lane.away is not None or lane.here is None or lane.thermometer is not thermometer:
                continue
            is_wanted = lane.is_developing or reading.source == "hand"
            if is_wanted or reading.taken_s >= _sampled_s(lane) + OTHER_BATHS_EVERY_S:
                self._write_temperature(lane, reading.bath_degC, reading.tolerance_K, reading.source)
            self._mind_window(lane, reading.bath_degC)

    def _mind_window(self, lane: Lane, bath_degC: float) -> None:
        plan, here = lane.plan, lane.here
        if plan is None or here is None:
            return
        words = outside_words(plan, bath_degC, WINDOW_MARGIN_K if lane.is_outside else 0.0)
        if not words:
            lane.is_outside = False
            self._notices.clear("bath outside window", about=lane.number)
            return
        now_s = self._scribe.clock.now_s()
        self._notices.say("bath outside window", f"{lane.words}: {words}", now_s, about=lane.number)
        if lane.is_outside:
            return
        lane.is_outside = True
        self._scribe.play("trouble")
        if not here.left_window:
            self._scribe.write(
                lane.record,
                ev.BathLeftWindow(
                    step=here.step, bath_degC=bath_degC, low_degC=plan.low_degC, high_degC=plan.high_degC
                ),
            )

    # --- time ---

    def next_due_s(self, lane: Lane, now_s: float) -> float | None:
        """Return the next moment [boot s] at which a tray has something to do."""
        times = step_times(lane, due(lane, now_s))
        if times is None:
            return None
        cue = lane.cues.next(times, now_s)
        moments = [times.due_s, cue.due_s if cue else None, self._trend_due_s(lane), _alive_due_s(lane)]
        moments.append(lane.back_until_s)
        first_s = min((m for m in moments if m is not None), default=None)
        return None if first_s is None else max(first_s, lane.stalled_until_s)

    def advance(self, lanes: Iterable[Lane], now_s: float) -> None:
        """Do what has fallen due by now in every tray; the most urgent tune is played last."""
        spoken: list[Cue] = []
        for lane in lanes:
            if now_s < lane.stalled_until_s:
                continue
            try:
                spoken += self._advance(lane, now_s)
            except Refused as refusal:
                lane.stalled_until_s = now_s + STALLED_S
                words = f"{lane.words}: {refusal.line}"
                self._notices.say("tray stalled", words, now_s, about=lane.number)
        for cue in sorted(spoken, key=lambda cue: URGENCY[cue.tune]):
            self._scribe.play(cue.tune)

    def _advance(self, lane: Lane, now_s: float) -> list[Cue]:
        self._taking_back.is_over(lane, now_s)
        coming = due(lane, now_s)
        times = step_times(lane, coming)
        if times is None:
            return []
        trend_s = self._trend_due_s(lane)
        if trend_s is not None and now_s >= trend_s:
            belief = lane.believed(now_s)
            self._write_temperature(lane, belief.bath_degC, belief.tolerance_K, "trend")
            coming = due(lane, now_s)
        cues = lane.cues.take(times, now_s)
        for cue in cues:
            self._notices.say("cue", f"{lane.words}: {cue.words}", now_s, about=lane.number)
        if coming is not None and lane.record.state == "running" and now_s >= coming.at_s - REACHED_S:
            self._fall_due(lane, coming, now_s)
        alive_s = _alive_due_s(lane)
        if alive_s is not None and now_s >= alive_s:
            self._scribe.write(lane.record, ev.RunWentOn())
        return cues

    def _fall_due(self, lane: Lane, coming: Due, now_s: float) -> None:
        here = lane.here
        if here is None:
            return
        if lane.is_developing and coming.ends:
            self._stepping.end_step(lane, coming.by)
            return
        why: ev.DueBy = "ceiling" if coming.by == "ceiling" else "time"
        over_s = max(0.0, now_s - coming.at_s)
        fell = ev.StepFellDue(step=here.step, why=why, over_s=over_s if over_s > REACHED_S else 0.0)
        self._scribe.write(lane.record, fell)

    def _trend_due_s(self, lane: Lane) -> float | None:
        """Return when the believed temperature must stand in for a silent probe."""
        if not lane.is_developing or lane.thermometer.last is None or not lane.record.samples:
            return None
        return max(_sampled_s(lane) + TREND_EVERY_S, lane.thermometer.stale_at_s)

    def _write_temperature(
        self, lane: Lane, bath_degC: float, tolerance_K: float, source: ev.TemperatureSource
    ) -> None:
        read = ev.TemperatureRead(bath_degC=bath_degC, tolerance_K=tolerance_K, source=source)
        self._scribe.write(lane.record, read)


def outside_words(step: Step, bath_degC: float, margin_K: float = 0.0) -> str:
    """Return how a bath lies outside the window its step wants, or nothing."""
    low, high = step.low_degC, step.high_degC
    is_cold = low is not None and bath_degC < low + margin_K
    is_warm = high is not None and bath_degC > high - margin_K
    if not is_cold and not is_warm:
        return ""
    least = [] if low is None else [f"at least {low:g}"]
    most = [] if high is None else [f"at most {high:g}"]
    wanted = " and ".join(least + most)
    return f"{step.bath} has {bath_degC:.1f} degC; {step.name} wants {wanted} degC"


def _sampled_s(lane: Lane) -> float:
    samples = lane.record.samples
    return lane.record.boot_s_at(samples[-1].run_s) if samples else float("-inf")


def _alive_due_s(lane: Lane) -> float | None:
    return lane.record.boot_s + ALIVE_EVERY_S if lane.record.state == "running" else None
