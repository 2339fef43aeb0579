"""Draws the bench's state as a view: plain facts for any screen."""

from __future__ import annotations

from firmware_py.bench.bench import Bench
from firmware_py.bench.lane import Lane, foot_words
from firmware_py.bench.print_show import show_lamp, show_print
from firmware_py.bench.print_view import LampView
from firmware_py.bench.upkeep import Upkeep
from firmware_py.bench.upkeep_show import show_baths, show_formulas, show_heater, show_light, show_plate
from firmware_py.bench.view import (
    BathTemperature,
    BenchView,
    CueView,
    LaneState,
    LaneView,
    MarkView,
    NoticeView,
    ProbeView,
    RelayView,
    StepView,
)
from firmware_py.craft.routine import SheetName
from firmware_py.craft.temperature import held_rate
from firmware_py.devices.probe import Reading
from firmware_py.journal.outcome import planned_s


def show(bench: Bench) -> BenchView:
    """Return the bench as it is now."""
    now_s = bench.clock.now_s()
    lamp = show_lamp(bench.lamp_side.printing, bench.open_plates(), now_s)
    foot_at_the_lamp = bench.lamp_side.has_the_next_press
    foot = _foot(bench, lamp if foot_at_the_lamp else None)
    return BenchView(
        as_of_s=now_s,
        speed=bench.clock.speed,
        utc=bench.clock.utc().isoformat(timespec="seconds"),
        rehearsal=bench.plan.rehearsal,
        focus=bench.runs.focus,
        lanes=tuple(_lane(bench.upkeep, lane, now_s) for _, lane in sorted(bench.runs.lanes.items())),
        relays=tuple(RelayView(name=n, on=on, why=why) for n, (on, why) in bench.relays.items()),
        probes=tuple(_probe(bench, probe) for probe in bench.thermometers.words),
        notices=tuple(
            NoticeView(words=n.words, since_s=n.since_s, trouble=n.trouble) for n in bench.notices.all()
        ),
        routines=_routines_for(bench, "plate"),
        paper_routines=_routines_for(bench, "paper"),
        lamp=lamp,
        print=show_print(bench.lamp_side.printing),
        foot=foot[0],
        foot_long=foot[1],
        foot_serves="lamp" if foot_at_the_lamp else "trays",
        formulas=show_formulas(bench.upkeep),
        baths=show_baths(bench.upkeep),
        heater=show_heater(bench.upkeep.heater),
    )


def _lane(upkeep: Upkeep, lane: Lane, now_s: float) -> LaneView:
    record, rate = lane.record, lane.rate
    developing = lane.is_developing
    bath = _bath(lane, now_s) if rate is not None else None
    cue = lane.next_cue(now_s)
    short, long = foot_words(lane)
    return LaneView(
        lane=lane.number,
        run_id=record.run_id,
        plate=record.plate,
        routine=record.routine.title,
        state=_state(lane),
        steps=tuple(_steps(lane)),
        step=record.next_step,
        started_s=lane.started_s(),
        due_s=lane.forecast_due_s(now_s) if record.state == "running" else _due_since_s(lane),
        doubt_s=lane.doubt_s(now_s),
        equivalent_s=lane.equivalent_s(now_s) if developing else None,
        target_s=lane.target_s,
        reference_degC=rate.reference_degC if rate else None,
        rate=held_rate(rate, bath.bath_degC)[0] if rate and bath else None,
        bath=bath,
        marks=tuple(
            MarkView(what=m.what, elapsed_s=m.elapsed_s, equivalent_s=m.equivalent_s) for m in record.marks
        ),
        mark_names=record.routine.marks,
        next_cue=CueView(words=cue.words, due_s=cue.due_s, urgent=cue.tune == "overdue") if cue else None,
        foot_short=short,
        foot_long=long,
        advice=tuple(_advice(lane, now_s)),
        times_longer=record.times_longer(record.next_step),
        plate_kind=show_plate(lane),
        light=show_light(upkeep, lane, now_s),
    )


def _state(lane: Lane) -> LaneState:
    return "interrupted" if lane.away is not None else lane.record.state


def _due_since_s(lane: Lane) -> float | None:
    here = lane.here
    return lane.record.boot_s_at(here.due_s) if here and here.due_s is not None else None


def _steps(lane: Lane) -> list[StepView]:
    number, baths = lane.record.next_step, lane.record.baths
    return [
        StepView(
            name=step.name,
            kind=step.kind,
            bath=step.bath,
            planned_s=planned_s(step),
            place="done" if n < number else "here" if n == number else "to come",
            bath_name=baths[n].bath if n in baths else "",
        )
        for n, step in enumerate(lane.record.routine.steps)
    ]


def _bath(lane: Lane, now_s: float) -> BathTemperature:
    belief = lane.believed(now_s)
    return BathTemperature(
        bath_degC=belief.bath_degC,
        tolerance_K=belief.tolerance_K,
        read_at_s=belief.read_at_s,
        source=belief.source,
        trend_K_per_min=lane.thermometer.trend_K_per_min(now_s),
    )


def _advice(lane: Lane, now_s: float) -> list[str]:
    rate = lane.rate
    words = []
    if lane.away is not None:
        words.append(_away_words(lane))
    if rate is not None:
        belief = lane.believed(now_s)
        _, outside = held_rate(rate, belief.bath_degC)
        if belief.source == "assumed":
            words.append(
                f"No thermometer speaks: {belief.bath_degC:.0f} degC is only assumed; give it by hand"
            )
        if outside:
            words.append(
                f"{belief.bath_degC:.1f} degC is outside {rate.low_degC:g} to {rate.high_degC:g} degC, "
                "where this developer is known: counted as at the nearer end"
            )
    return words


def _away_words(lane: Lane) -> str:
    likely_s = lane.away.likely_s if lane.away else None
    if likely_s is None:
        return "Interrupted; the wall clock went back, so say how long the plate lay"
    return (
        f"Interrupted: away for about {likely_s / 60:.1f} min by the wall clock; take it up, or say how long"
    )


def _routines_for(bench: Bench, sheet: SheetName) -> tuple[str, ...]:
    return tuple(name for name, routine in bench.plan.routines.items() if routine.sheet == sheet)


def _foot(bench: Bench, lamp: LampView | None) -> tuple[str, str]:
    if bench.foot.stuck:
        return "foot switch stays down: release it", ""
    if lamp is not None:
        return lamp.foot_press or lamp.blocked, lamp.foot_long
    lane = bench.runs.lanes.get(bench.runs.focus) if bench.runs.focus is not None else None
    return foot_words(lane) if lane else ("", "")


def _probe(bench: Bench, probe: str) -> ProbeView:
    word = bench.thermometers.words[probe]
    place = bench.thermometers.trays[probe]
    if isinstance(word, Reading):
        thermometer = bench.thermometers.of_probe(probe)
        return ProbeView(
            name=probe,
            place=place,
            bath_degC=word.bath_degC,
            tolerance_K=word.tolerance_K,
            read_at_s=word.taken_s,
            trouble=thermometer.trouble,
        )
    return ProbeView(
        name=probe, place=place, bath_degC=None, tolerance_K=None, read_at_s=word.taken_s, trouble=word.why
    )
