"""Draws one tray as a view."""

from __future__ import annotations

from firmware_py.bench.trays.due import (
    EndingMoment,
    change_due_s,
    doubt_s,
    due,
    ending_moments,
    forecast,
    look_due_s,
)
from firmware_py.bench.trays.foot_table import foot_words
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.resume import Away
from firmware_py.bench.trays.step_times import step_times
from firmware_py.bench.trays.urgency import needs, urgency
from firmware_py.bench.trays.watch import outside_words
from firmware_py.bench.upkeep.upkeep import Upkeep
from firmware_py.bench.upkeep.upkeep_show import show_light, show_plate
from firmware_py.bench.vocabulary import Vocabulary
from firmware_py.craft.temperature import outside_K, running_rate
from firmware_py.facts.views.run import (
    AwayView,
    BathTemperature,
    CueView,
    EndingView,
    LaneState,
    LaneView,
    MarkView,
    PrecedentView,
    StepView,
    WashView,
)
from firmware_py.journal.outcome import planned_s
from firmware_py.journal.seen import cleared_s


def show_lane(upkeep: Upkeep, lane: Lane, vocabulary: Vocabulary, now_s: float) -> LaneView:
    """Return a tray as it is now."""
    record, rate, plan = lane.record, lane.rate, lane.plan
    development = plan.development if plan else None
    moments = ending_moments(lane, now_s, drifting=True)
    coming = forecast(lane, now_s, moments) if record.state == "running" else None
    bath = _bath(lane, now_s)
    short, long = foot_words(lane)
    return LaneView(
        **record.about,
        lane=lane.number,
        run_id=record.run_id,
        plate=record.plate,
        plates=record.plates,
        routine=record.routine.title,
        state=_state(lane),
        steps=tuple(_steps(upkeep, lane)),
        step=record.next_step,
        started_s=lane.started_s(),
        due_s=coming.at_s if coming else _due_since_s(lane),
        due_by=coming.by if coming else None,
        doubt_s=doubt_s(lane, now_s),
        equivalent_s=lane.equivalent_s(now_s) if lane.is_developing else None,
        target_s=lane.target_s,
        reference_degC=rate.reference_degC if rate else None,
        rate=running_rate(rate, bath.bath_degC) if rate and bath else None,
        ends=development.ends if development else (),
        endings=tuple(_ending(moment) for moment in moments),
        factor=development.factor if development else None,
        bath=bath,
        window=(plan.low_degC, plan.high_degC) if plan else (None, None),
        is_outside=lane.is_outside,
        tested=(rate.low_degC, rate.high_degC) if rate else (None, None),
        outside_K=outside_K(rate, bath.bath_degC) if rate and bath else 0.0,
        rock_every_s=plan.agitate_every_s if plan else None,
        light_allowed=lane.light,
        is_open=lane.is_open,
        wash=_wash(lane),
        cleared_s=cleared_s(record, lane.here) if lane.here else None,
        look_due_s=look_due_s(lane),
        marks=tuple(
            MarkView(what=m.what, elapsed_s=m.elapsed_s, equivalent_s=m.equivalent_s) for m in record.marks
        ),
        mark_names=record.routine.marks,
        mark_keys=vocabulary.keys_for(record.routine.marks),
        precedent=_precedent(lane),
        next_cue=_next_cue(lane, now_s),
        foot_short=short,
        foot_long=long,
        away=_away(lane, now_s),
        urgency=urgency(lane, now_s)[0].value,
        needs=needs(lane, now_s),
        advice=tuple(_advice(lane, now_s)),
        back_until_s=lane.back_until_s,
        times_longer=record.times_longer(record.next_step),
        plate_kind=show_plate(lane),
        light=show_light(upkeep, lane, now_s),
    )


def _state(lane: Lane) -> LaneState:
    return "interrupted" if lane.away is not None else lane.record.state


def _due_since_s(lane: Lane) -> float | None:
    here = lane.here
    return lane.record.boot_s_at(here.due_s) if here and here.due_s is not None else None


def _steps(upkeep: Upkeep, lane: Lane) -> list[StepView]:
    number, baths = lane.record.next_step, lane.record.baths
    return [
        StepView(
            name=step.name,
            kind=step.kind,
            bath=step.bath,
            planned_s=planned_s(step),
            place="done" if n < number else "here" if n == number else "to come",
            bath_name=baths[n].bath if n in baths else "",
            bath_choices=_choices(upkeep, lane, n) if n >= number else (),
            light_allowed=lane.light_at(n),
        )
        for n, step in enumerate(lane.record.routine.steps)
    ]


def _choices(upkeep: Upkeep, lane: Lane, step: int) -> tuple[str, ...]:
    return tuple(bath.name for bath in upkeep.bath_use.choices(lane.record, step))


def _bath(lane: Lane, now_s: float) -> BathTemperature | None:
    """Return the temperature of the bath; of one that is no developer only where somebody knows it."""
    if lane.rate is None and lane.thermometer.last is None:
        return None
    belief = lane.believed(now_s)
    return BathTemperature(
        bath_degC=belief.bath_degC,
        tolerance_K=belief.tolerance_K,
        read_at_s=belief.read_at_s,
        source=belief.source,
        trend_K_per_min=lane.thermometer.trend_K_per_min(now_s),
    )


def _ending(moment: EndingMoment) -> EndingView:
    ending = moment.ending
    return EndingView(by=ending.by, ends=ending.ends, due_s=moment.at_s, equivalent_s=ending.equivalent_s)


def _wash(lane: Lane) -> WashView | None:
    here, plan = lane.here, lane.plan
    if here is None or plan is None or plan.changes == 1:
        return None
    return WashView(water=len(here.changed_s) + 1, waters=plan.changes, change_due_s=change_due_s(lane))


def _precedent(lane: Lane) -> PrecedentView | None:
    known = lane.precedent
    if known is None:
        return None
    return PrecedentView(plates=known.plates, low_s=known.low_s, median_s=known.median_s, high_s=known.high_s)


def _next_cue(lane: Lane, now_s: float) -> CueView | None:
    times = step_times(lane, due(lane, now_s))
    cue = lane.cues.next(times, now_s) if times is not None else None
    if cue is None:
        return None
    return CueView(words=cue.words, due_s=cue.due_s)


def _away(lane: Lane, now_s: float) -> AwayView | None:
    away = lane.away
    if away is None:
        return None
    return AwayView(
        last_utc=away.last_utc,
        least_s=away.least_s(now_s),
        likely_s=away.likely_s(now_s),
        doubt_s=away.doubt_s,
        why_not=away.why_not,
    )


def _advice(lane: Lane, now_s: float) -> list[str]:
    rate, plan = lane.rate, lane.plan
    words = [_away_words(lane.away, now_s)] if lane.away is not None else []
    if plan is not None and lane.thermometer.last is not None:
        outside = outside_words(plan, lane.believed(now_s).bath_degC)
        words += [outside] if outside else []
    if rate is None:
        return words
    belief = lane.believed(now_s)
    if belief.source == "assumed":
        words.append(f"No thermometer speaks: {belief.bath_degC:.0f} degC is only assumed; give it by hand")
    far_K = outside_K(rate, belief.bath_degC)
    if far_K:
        counted = "by the same law, the doubt grows" if rate.beyond == "law" else "as at the nearer end"
        words.append(
            f"OUTSIDE THE TESTED RANGE: {belief.bath_degC:.1f} degC, {abs(far_K):.1f} K "
            f"{'below' if far_K < 0 else 'above'} {rate.low_degC:g} to {rate.high_degC:g} degC; "
            f"counted {counted}"
        )
    return words


def _away_words(away: Away, now_s: float) -> str:
    likely_s = away.likely_s(now_s)
    if likely_s is None:
        return f"Interrupted: {away.why_not}; say how long the plate lay"
    return (
        f"Interrupted: away for about {likely_s / 60:.1f} min by the wall clock, give or take "
        f"{away.doubt_s:.0f} s; take it up, or say how long"
    )
