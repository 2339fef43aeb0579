"""Draws the bench's state as a view: plain facts for any screen."""

from __future__ import annotations

from collections.abc import Collection

from firmware_py.bench.bench import Bench
from firmware_py.bench.lamp.print_show import show_lamp, show_print
from firmware_py.bench.notices import Notice
from firmware_py.bench.plates.plates_show import show_plates
from firmware_py.bench.trays.foot_table import foot_words
from firmware_py.bench.trays.lane import Lane
from firmware_py.bench.trays.show_lane import show_lane
from firmware_py.bench.trays.urgency import by_urgency, most_urgent
from firmware_py.bench.upkeep.upkeep_show import show_baths, show_formulas, show_heater
from firmware_py.bench.wired import Wired, foot_state
from firmware_py.craft.light_allowed import darkest, needs_darkness
from firmware_py.craft.routine import Light
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.facts.views.bench import (
    BenchView,
    DeviceView,
    NoticeView,
    PhraseView,
    ProbeView,
    RelayView,
    SoundView,
)
from firmware_py.facts.views.print import LampView


def show(bench: Bench) -> BenchView:
    """Return the bench as it is now."""
    now_s = bench.clock.now_s()
    lanes, vocabulary = bench.runs.lanes.values(), bench.plan.vocabulary
    first = most_urgent(lanes, now_s)
    lamp = show_lamp(bench.lamp_side.printing, bench.open_plates(), now_s)
    foot_at_the_lamp = bench.lamp_side.has_the_next_press
    foot = _foot(bench, lamp if foot_at_the_lamp else None)
    return BenchView(
        as_of_s=now_s,
        speed=bench.clock.speed,
        utc=bench.clock.utc().isoformat(timespec="seconds"),
        rehearsal=bench.plan.rehearsal,
        focus=bench.runs.focus,
        lanes=tuple(show_lane(bench.upkeep, lane, vocabulary, now_s) for lane in by_urgency(lanes, now_s)),
        relays=tuple(RelayView(name=n, on=on, why=why) for n, (on, why) in bench.relays.items()),
        probes=tuple(_probe(bench, probe) for probe in bench.thermometers.words),
        notices=tuple(_notice(n) for n in bench.notices.all()),
        routines=_routines_for_plates(bench),
        in_the_dark=_in_the_dark(bench),
        lamp=lamp,
        print=show_print(bench.lamp_side.printing),
        foot=foot[0],
        foot_long=foot[1],
        foot_serves="lamp" if foot_at_the_lamp else "trays",
        long_press_s=bench.plan.foot.long_press_s,
        most_urgent=first.number if first else None,
        formulas=show_formulas(bench.upkeep),
        baths=show_baths(bench.upkeep),
        heater=show_heater(bench.upkeep.heater),
        plates=show_plates(bench.plates, lanes, bench.upkeep.light.safe_time_of),
        light_allowed=_light(lanes),
        phrases=tuple(PhraseView(words=p.words) for p in vocabulary.phrases),
        devices=tuple(_device(bench, wired) for wired in bench.plan.wired),
        sounded=_sounded(bench),
        program=bench.plan.program,
    )


def _device(bench: Bench, wired: Wired) -> DeviceView:
    state, trouble = "", False
    if wired.kind == "foot switch":
        state, trouble = foot_state(bench.foot, bench.held_foot)
    elif wired.kind == "light sensor":
        state = bench.lamp_side.printing.dose.trouble
        trouble = bool(state)
    elif wired.kind == "switchboard":
        state, trouble = ("ready", False) if bench.relays_ready else ("lost: every relay is off", True)
    return DeviceView(kind=wired.kind, name=wired.name, body=wired.body, state=state, trouble=trouble)


def _sounded(bench: Bench) -> SoundView | None:
    number, tune = bench.scribe.sounded
    return SoundView(number=number, tune=tune) if tune is not None else None


def _light(lanes: Collection[Lane]) -> Light:
    """Return the most light that may fall on every plate and paper on the bench."""
    return darkest(lane.light for lane in lanes)


def _notice(notice: Notice) -> NoticeView:
    matter = notice.matter
    return NoticeView(
        kind=notice.kind,
        words=notice.words,
        since_s=notice.since_s,
        trouble=matter.trouble,
        cause=matter.cause,
        to_do=matter.to_do,
    )


def _routines_for_plates(bench: Bench) -> tuple[str, ...]:
    return tuple(name for name, routine in bench.plan.routines.items() if routine.sheet == "plate")


def _in_the_dark(bench: Bench) -> tuple[str, ...]:
    usual, routines = bench.plan.upkeep.plates.sensitivity, bench.plan.routines
    return tuple(name for name in _routines_for_plates(bench) if needs_darkness(routines[name], usual))


def _foot(bench: Bench, lamp: LampView | None) -> tuple[str, str]:
    if bench.foot.stuck:
        return "foot switch stays down: release it", ""
    if lamp is not None:
        return lamp.foot_press or lamp.blocked, lamp.foot_long
    lane = bench.runs.lanes.get(bench.runs.focus) if bench.runs.focus is not None else None
    return foot_words(lane) if lane else ("", "")


def _probe(bench: Bench, probe: str) -> ProbeView:
    word, probes = bench.thermometers.words[probe], bench.upkeep.probes
    reading = word if isinstance(word, Reading) else None
    record = probes.records.get(probe)
    calibrated = record.calibrated if record is not None else None
    return ProbeView(
        name=probe,
        place=bench.thermometers.trays[probe],
        bath_degC=reading.bath_degC if reading else None,
        tolerance_K=reading.tolerance_K if reading else None,
        read_at_s=word.taken_s,
        trouble=word.why if isinstance(word, NoReading) else bench.thermometers.of_probe(probe).trouble,
        offset_K=probes.offset_K(probe),
        calibrated_utc=record.calibrated_utc if record is not None else "",
        calibrated_by=calibrated.method if calibrated is not None else "",
        calibration_is_old=probes.is_old(probe),
    )
