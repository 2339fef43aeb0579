"""What is wanted of a print: base, strip, burns, copies, paper, distance, program."""

from __future__ import annotations

from firmware_py.bench.lamp.next_exposure import strip_on_times_s
from firmware_py.bench.lamp.print_sheets import Desk
from firmware_py.bench.lamp.programs import base_now_s
from firmware_py.craft.lamp import time_at_distance_s
from firmware_py.craft.paper import time_on_other_paper_s
from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_time
from firmware_py.craft.strips import strip_about, time_at_s
from firmware_py.facts.acts import print as pa
from firmware_py.facts.events import print as pe
from firmware_py.journal.print_sheet import Sheet


def set_base(desk: Desk, base_s: float, how: pe.BaseSource = "person") -> None:
    """Set the seconds of full light that the whole sheet gets."""
    desk.write(pe.BaseSet(base_s=base_s, how=how))
    desk.say(f"The base is {say_time(base_s)}")


def plan_strip(desk: Desk, act: pa.PlanStrip) -> None:
    """Plan a test strip. Raises Refused where the lamp can not give its shortest exposure."""
    record = desk.here()
    middle_s = record.base_s if act.middle_s is None else act.middle_s
    if middle_s is None:
        raise Refused("no middle is given", where="strip", allowed="a middle, or a base time")
    plan = strip_about(middle_s, act.step_stops, act.patches, act.method)
    if record.mode == "timed":
        tried = Sheet(0, "strip", patches_s=plan.times_s, step_stops=act.step_stops, method=act.method)
        strip_on_times_s(record, tried)
    desk.write(pe.StripPlanned(method=act.method, step_stops=act.step_stops, patches_s=plan.times_s))
    desk.say(_first_words(act))


def _first_words(act: pa.PlanStrip) -> str:
    if act.method == "covering":
        return f"Strip of {act.patches}: leave all of it open, then cover one patch after the other"
    return f"Strip of {act.patches}: cover all but the first patch, then open one after the other"


def choose_patch(desk: Desk, place: float) -> None:
    """Let what a place on the last strip really got be the base."""
    strip = desk.here().strip()
    given_s = strip.patches_given_s() if strip else ()
    if not given_s:
        raise Refused("no strip is finished", where="choose a patch", allowed="expose a strip first")
    effective_s = time_at_s(given_s, place)
    desk.write(pe.PatchChosen(place=place, effective_s=effective_s))
    set_base(desk, effective_s, "patch")


def change_distance(desk: Desk, distance_mm: float) -> None:
    """Move the lamp; the base follows by the inverse square."""
    record = desk.here()
    before_mm, base_s = record.distance_mm, record.base_s
    desk.write(pe.DistanceChanged(distance_mm=distance_mm))
    if base_s is None:
        return
    if before_mm is None:
        desk.say("The distance before was not known: the base is as it was, try it")
        return
    set_base(desk, time_at_distance_s(base_s, before_mm, distance_mm), "distance")


def change_paper(desk: Desk, act: pa.ChangePaper) -> None:
    """Take another paper; the base follows by its speed."""
    record = desk.here()
    before, base_s = record.paper_speed, record.base_s
    desk.write(
        pe.PaperChanged(
            paper=act.paper,
            grade=act.grade,
            paper_log_range=act.paper_log_range,
            paper_speed=act.paper_speed,
        )
    )
    if base_s is None:
        return
    if before is None or act.paper_speed is None:
        desk.say("The papers' speeds are not both known: the base is as it was, make a strip")
        return
    set_base(desk, time_on_other_paper_s(base_s, before, act.paper_speed), "paper")


def use_program(desk: Desk) -> None:
    """Take base and burns kept with this negative. Raises Refused where none were kept."""
    record = desk.here()
    program = desk.programs.find(record.opened.negative, record.opened.run_id)
    if program is None:
        raise Refused(
            "no program is kept with this negative", where="lamp", allowed="a strip, or a base time"
        )
    set_base(desk, base_now_s(program, record), "program")
    for number in range(len(record.burns), 0, -1):
        desk.write(pe.BurnRemoved(burn=number))
    for stops, place in program.burns:
        desk.write(pe.BurnAdded(stops=stops, place=place))
