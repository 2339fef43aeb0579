"""The questions of the Baths page about heat and thermometers."""

from __future__ import annotations

from functools import partial

from firmware_py.facts.acts.bath import CalibrateProbe, SetHeat, StopHeat
from firmware_py.facts.views.bench import BenchView, ProbeView
from firmware_py.facts.views.upkeep import HeaterView
from tui.desk import Desk
from tui.pages.baths.warmth_words import calibration
from tui.pages.shared.choosing import choice
from tui.pages.shared.time_words import printable
from tui.pages.trays.forms import read_bath_degC, temperature_question
from tui.widgets.asking import Question


def heat_question(heater: HeaterView, desk: Desk) -> Question:
    """Ask what the heater is to do: another temperature, or let be; with nothing set, the temperature."""
    degrees = _degrees_question(heater, desk)
    if heater.set_degC is None and not heater.words:
        return degrees
    deeds = {
        "set a temperature": partial(desk.ask, degrees),
        "let it be: heat no more": partial(desk.do, StopHeat()),
    }
    if heater.set_degC is not None and heater.state == "stopped":
        again = f"the cause is gone: heat again to {heater.set_degC:.4g} °C"
        deeds = {again: partial(desk.do, SetHeat(set_degC=heater.set_degC)), **deeds}
    return choice("The heater:", deeds, desk.ask)


def _degrees_question(heater: HeaterView, desk: Desk) -> Question:
    def read(text: str) -> None:
        desk.do(SetHeat(set_degC=read_bath_degC(text)))

    allowed = f"{heater.coldest_set_degC:g} to {heater.warmest_set_degC:g} °C"
    words = f"Bring the {printable(heater.place)} to ({allowed}; 20, or 68 F), then Enter:"
    return Question(words, read, start="")


def probe_question(view: BenchView, desk: Desk) -> Question:
    """Ask which probe is to be calibrated, then against what."""
    deeds = {
        f"{printable(probe.name)} ({printable(probe.place)}): {calibration(probe)}": partial(
            desk.ask, _against_question(probe, desk)
        )
        for probe in view.probes
    }
    return choice("Calibrate which probe? Its number:", deeds, desk.ask)


def _against_question(probe: ProbeView, desk: Desk) -> Question:
    def read(text: str) -> None:
        act = CalibrateProbe(
            probe=probe.name, against="reference thermometer", reference_degC=read_bath_degC(text)
        )
        desk.do(act)

    name = printable(probe.name)
    shows = Question(f"The thermometer beside {name} shows (19.4, or 67 F), then Enter:", read, start="")
    deeds = {
        "it has lain in melting ice, stirred, for some minutes": partial(
            desk.do, CalibrateProbe(probe=probe.name, against="ice point")
        ),
        "a thermometer that can be trusted lies beside it": partial(desk.ask, shows),
    }
    return choice(f"{name} is corrected by its last readings:", deeds, desk.ask)


def tray_temperature_question(view: BenchView, desk: Desk) -> Question:
    """Ask for which tray a temperature is told by hand, then for the temperature."""
    open_lanes = [lane for lane in view.lanes if lane.state != "ended"]
    questions = {
        f"tray {lane.lane}, {printable(lane.plate)}": temperature_question(lane, desk.do)
        for lane in sorted(open_lanes, key=lambda lane: lane.lane)
    }
    if len(questions) == 1:
        return next(iter(questions.values()))
    deeds = {words: partial(desk.ask, question) for words, question in questions.items()}
    return choice("The temperature in which tray? Its number:", deeds, desk.ask)
