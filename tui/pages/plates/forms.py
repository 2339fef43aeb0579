"""The questions of the Plates page about boxes, holders and plates, and the acts that follow."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import get_args

from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.plate import (
    AdvancePlate,
    BreakPlate,
    EnterBox,
    EnterHolder,
    FilePlate,
    LoadPlate,
    NotePlate,
    TakeBackExposure,
)
from firmware_py.facts.events.life import Reached
from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.plates import LifeView
from firmware_py.service.checked_act import checked
from tui.desk import Desk
from tui.pages.shared.choosing import choice
from tui.pages.shared.reading import read_count, read_name, read_number
from tui.pages.shared.time_words import printable
from tui.widgets.asking import Question

AS_USUAL = "as the settings say of the usual plate"
REACHED: tuple[Reached, ...] = get_args(Reached)


def load(side: str, view: BenchView, desk: Desk) -> None:
    """Load a side: at once where there is one box with plates, else from the box that is chosen."""
    full = [box for box in view.plates.boxes if box.left]
    if not full:
        desk.say("No box holds a plate: N enters one")
        return
    deeds: dict[str, Callable[[], None]] = {
        f"box {printable(box.name)}: {printable(box.next_plate)}, {box.left} left": partial(
            desk.do, LoadPlate(side=side, box=box.name)
        )
        for box in full
    }
    if len(deeds) == 1:
        next(iter(deeds.values()))()
    else:
        desk.ask(choice(f"Load {side} from which box? Its number:", deeds, desk.ask))


def plate_question(plate: LifeView, desk: Desk) -> Question:
    """Ask what is to be said of a plate; only what can be is offered."""
    name = printable(plate.name)
    deeds: dict[str, Callable[[], None]] = {}
    if plate.stage == "exposed":
        deeds["it is not exposed after all"] = lambda: desk.do(TakeBackExposure(plate=plate.name))
    for to in _later(plate):
        deeds[f"it is {to}"] = partial(desk.do, AdvancePlate(plate=plate.name, to=to))
    if plate.stage == "dry":
        deeds["file it"] = lambda: desk.ask(_file_question(plate, desk))
    deeds["write a remark on it"] = lambda: desk.ask(_note_question(plate, desk))
    deeds["it is broken or spoilt"] = lambda: desk.ask(_broken_question(plate, desk))
    return choice(f"{name} is {plate.stage}:", deeds, desk.ask)


def _later(plate: LifeView) -> tuple[Reached, ...]:
    if plate.stage not in REACHED:
        return ()
    return REACHED[REACHED.index(plate.stage) + 1 :]


def _file_question(plate: LifeView, desk: Desk) -> Question:
    words = f"Where is {printable(plate.name)} put away (drawer 2)? Then Enter:"
    return Question(words, lambda text: desk.do(FilePlate(plate=plate.name, place=printable(text))), start="")


def _note_question(plate: LifeView, desk: Desk) -> Question:
    def written(text: str) -> None:
        if printable(text):
            desk.do(NotePlate(plate=plate.name, text=printable(text)))

    return Question(f"Remark on {printable(plate.name)}, then Enter:", written, start="")


def _broken_question(plate: LifeView, desk: Desk) -> Question:
    words = f"How did {printable(plate.name)} break, or what spoilt it? Then Enter (Escape: it is whole):"
    return Question(words, lambda text: desk.do(BreakPlate(plate=plate.name, how=printable(text))), start="")


# --- new boxes and holders ---


def new_question(desk: Desk) -> Question:
    """Ask whether a box or a holder is to be entered."""
    deeds = {
        "a box of plates": lambda: desk.ask(_box_name_question(desk)),
        "a holder": lambda: desk.ask(_holder_question(desk)),
    }
    return choice("Enter what? Its number:", deeds, desk.ask)


def _holder_question(desk: Desk) -> Question:
    def named(text: str) -> None:
        desk.do(EnterHolder(name=read_name(printable(text), example="3")))

    words = "Name or number of the holder (holder 3 has the sides 3A and 3B), then Enter:"
    return Question(words, named, start="")


def _box_name_question(desk: Desk) -> Question:
    def named(text: str) -> None:
        name = read_name(printable(text), example="spring")
        checked(EnterBox(name=name, plates=1))
        boxes = desk.view.plates.boxes if desk.view is not None else ()
        if name.casefold() in {box.name.casefold() for box in boxes}:
            raise Refused(f"a box is called {name} already", where="boxes", allowed="another name")
        desk.ask(_plates_question(name, desk))

    words = "Name of the box (box spring has the plates spring/1, spring/2 ...), then Enter:"
    return Question(words, named, start="")


def _plates_question(name: str, desk: Desk) -> Question:
    def counted(text: str) -> None:
        plates = read_count(text, where="plates")
        checked(EnterBox(name=name, plates=plates))
        desk.ask(_index_question(name, plates, desk))

    return Question(f"Box {name}. How many plates are in it? Then Enter:", counted, start="12")


def _index_question(name: str, plates: int, desk: Desk) -> Question:
    def said(text: str) -> None:
        plain = text.strip()
        index = read_number(plain, where="index", example="2, or 1/4") if plain else None
        checked(EnterBox(name=name, plates=plates, speed_index=index))
        desk.ask(_sees_question(name, plates, index, desk))

    words = (
        f"Box {name}. Speed index (2 where 1/2 s at f/16 is right in bright sun; nothing typed: not known), "
        "then Enter:"
    )
    return Question(words, said, start="")


def _sees_question(name: str, plates: int, index: float | None, desk: Desk) -> Question:
    def enter(sees: Sensitivity | None) -> None:
        desk.do(EnterBox(name=name, plates=plates, speed_index=index, sensitivity=sees))

    kinds = {f"sees {sees}": partial(enter, sees) for sees in get_args(Sensitivity)}
    return choice(f"Box {name}. What do its plates see?", {AS_USUAL: partial(enter, None), **kinds}, desk.ask)
