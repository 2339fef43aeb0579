"""Which act at the lamp does what."""

from __future__ import annotations

from firmware_py.bench.lamp import print_sheets, print_wishes
from firmware_py.bench.lamp.printing import Printing
from firmware_py.facts.acts import print as pa
from firmware_py.facts.events import print as pe
from firmware_py.facts.events.run import NoteWritten


def do_at_the_lamp(desk: Printing, act: pa.AnyPrintAct) -> None:
    """Do what a person asks at the lamp, or raise Refused and change nothing."""
    match act:
        case pa.Expose():
            desk.go_on("key")
        case pa.StopExposure():
            desk.stop("key")
        case pa.PutOut():
            desk.darken("key")
        case pa.EndPrint():
            desk.end()
        case pa.ForgoRest():
            print_sheets.forgo_rest(desk)
        case pa.FinishSheet():
            print_sheets.finish_sheet(desk)
        case pa.GiveUpSheet():
            print_sheets.give_up_sheet(desk)
        case pa.GiveVerdict():
            desk.remark(pe.VerdictGiven(verdict=act.verdict))
            desk.say(f"The verdict is in the book: {act.verdict}")
        case pa.NotePrint():
            desk.remark(NoteWritten(text=act.text))
            desk.say(f"The note is in the book: {act.text}")
        case _:
            _wish(desk, act)


def _wish(desk: Printing, act: pa.AnyPrintAct) -> None:
    match act:
        case pa.SetBase():
            print_wishes.set_base(desk, act.base_s)
        case pa.PlanStrip():
            print_wishes.plan_strip(desk, act)
        case pa.ChoosePatch():
            print_wishes.choose_patch(desk, act.place)
        case pa.ChangeDistance():
            print_wishes.change_distance(desk, act.distance_mm)
        case pa.ChangePaper():
            print_wishes.change_paper(desk, act)
        case pa.UseProgram():
            print_wishes.use_program(desk)
        case _:
            desk.write(_plain_fact(act))


def _plain_fact(act: pa.AnyPrintAct) -> pe.AnyPrintEvent:
    match act:
        case pa.ChooseLampMode():
            return pe.LampModeChosen(mode=act.mode)
        case pa.AddBurn():
            return pe.BurnAdded(stops=act.stops, place=act.place)
        case pa.RemoveBurn():
            return pe.BurnRemoved(burn=act.burn)
        case pa.WantCopies():
            return pe.CopiesWanted(copies=act.copies)
        case _:
            raise AssertionError(act)
