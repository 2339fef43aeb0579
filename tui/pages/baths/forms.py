"""The questions of the Baths page about a bath, and the acts that follow from the answers."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import get_args

from firmware_py.craft.formula import MADE_FOR, Kind
from firmware_py.facts.acts.bath import DateBath, DiscardBath, MakeBath, NameBath, SeeClearing, SetHeat
from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.run import LaneView, StepView
from firmware_py.facts.views.upkeep import BathView, FormulaView
from firmware_py.service.checked_act import checked
from tui.desk import Desk
from tui.pages.baths.words import formula_cautions
from tui.pages.shared.choosing import choice
from tui.pages.shared.reading import read_past, read_seconds, read_volume_ml, ready_dates
from tui.pages.shared.time_words import printable
from tui.widgets.asking import Question

LONGEST_NAME = 60


# --- a new bath ---


def make_question(view: BenchView, desk: Desk) -> Question:
    """Ask what kind of bath is to be made, then by which formula, how much, and its name."""
    kinds: dict[str, list[FormulaView]] = {}
    for formula in view.formulas:
        kinds.setdefault(formula.kind, []).append(formula)
    deeds = {
        kind: partial(desk.ask, _formula_question(kind, kinds[kind], desk))
        for kind in get_args(Kind)
        if kind in kinds
    }
    return choice("Make a new bath. Its number:", deeds, desk.ask)


def _formula_question(kind: str, formulas: list[FormulaView], desk: Desk) -> Question:
    deeds = {printable(one.title): partial(desk.ask, _volume_question(one, desk)) for one in formulas}
    return choice(f"A {kind}: by which formula? Its number:", deeds, desk.ask)


def _volume_question(formula: FormulaView, desk: Desk) -> Question:
    def read(text: str) -> None:
        volume_ml = read_volume_ml(text, where="volume")
        checked(MakeBath(formula=formula.name, volume_ml=volume_ml))
        desk.ask(_name_question(formula, volume_ml, desk))

    asked = f"{printable(formula.title)}. How much (500 ml, 1 l, or 20 imperial fl oz), then Enter:"
    return Question("\n".join((*formula_cautions(formula), asked)), read, start="")


def _name_question(formula: FormulaView, volume_ml: float, desk: Desk) -> Question:
    def named(text: str) -> None:
        name = printable(text)[:LONGEST_NAME]
        desk.do(MakeBath(formula=formula.name, volume_ml=volume_ml, name=name))

    name = printable(formula.name)
    words = (
        f"Amounts and order: embertray mix {name} --make {volume_ml:.0f}ml\n"
        f"Its name or its vessel (nothing typed: {name} and a number), then Enter:"
    )
    return Question(words, named, start="")


# --- a bath that stands there ---


def bath_question(bath: BathView, view: BenchView, desk: Desk) -> Question:
    """Ask what is to be done with a bath."""
    ask = desk.ask
    deeds: dict[str, Callable[[], None]] = {}
    if uses := _uses(bath, view):
        deeds["use it for a tray"] = lambda: ask(
            choice("For which tray and step?", _named(uses, bath, desk), ask)
        )
    if view.heater is not None and bath.works_at_degC is not None:
        warmth = f"{bath.works_at_degC:.4g} °C"
        deeds[f"bring the water to {warmth} for it"] = lambda: desk.do(SetHeat(bath=bath.name))
    if bath.kind == "fixer":
        deeds["say how long a plate took to clear in it"] = lambda: ask(_clearing_question(bath, desk))
    deeds["put right when it was made"] = lambda: ask(_date_question(bath, view, desk))
    deeds["discard it"] = lambda: ask(discard_question(bath, desk))
    return choice(f"{printable(bath.name)}:", deeds, ask)


def discard_question(bath: BathView, desk: Desk) -> Question:
    """Ask once more before a bath is thrown away."""
    words = f"Discard {printable(bath.name)}? It is poured away and can not be had back."
    return Question(words, lambda _: desk.do(DiscardBath(bath=bath.name)))


def _uses(bath: BathView, view: BenchView) -> list[tuple[LaneView, int, StepView]]:
    """Return the steps, here or to come, that a bath can be named for."""
    return [
        (lane, number, step)
        for lane in sorted(view.lanes, key=lambda lane: lane.lane)
        if lane.state not in {"ended", "interrupted"}
        for number, step in enumerate(lane.steps)
        if step.place != "done" and _serves(bath, step)
    ]


def _serves(bath: BathView, step: StepView) -> bool:
    wanted = MADE_FOR.get(step.kind)
    return bath.kind == wanted if wanted is not None else bath.kind not in MADE_FOR.values()


def _named(
    uses: list[tuple[LaneView, int, StepView]], bath: BathView, desk: Desk
) -> dict[str, Callable[[], None]]:
    return {
        f"tray {lane.lane}, {printable(lane.plate)[:30]}: {printable(step.name)}": partial(
            desk.do, NameBath(bath=bath.name, step=number, lane=lane.lane)
        )
        for lane, number, step in uses
    }


def _clearing_question(bath: BathView, desk: Desk) -> Question:
    def read(text: str) -> None:
        clearing_s = read_seconds(text, where="clearing")

        def seen(*, fresh: bool) -> None:
            desk.do(SeeClearing(bath=bath.name, clearing_s=clearing_s, fresh=fresh))

        deeds = {
            "that is how long it takes now": partial(seen, fresh=False),
            "that was its time when it was fresh": partial(seen, fresh=True),
        }
        desk.ask(choice(f"Clear in {clearing_s:.0f} s in {printable(bath.name)}:", deeds, desk.ask))

    words = f"A plate was clear in {printable(bath.name)} after (seconds, or 1:30), then Enter:"
    return Question(words, read, start="")


def _date_question(bath: BathView, view: BenchView, desk: Desk) -> Question:
    ready_dates()

    def read(text: str) -> None:
        desk.do(DateBath(bath=bath.name, made=read_past(text, view, where="made")))

    words = f"{printable(bath.name)} was made (2026-03-14, yesterday, 12 March, yesterday 7 pm), then Enter:"
    return Question(words, read, start=bath.made_utc[:10])
