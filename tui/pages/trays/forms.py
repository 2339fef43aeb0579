"""The questions of the Trays page, and the acts that follow from the answers."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import datetime
from functools import partial

from firmware_py.craft.refusal import Refused, shown
from firmware_py.facts.acts.run import Abandon, AnyAct, CutShort, Note, OpenRun, SayTemperature, TakeUp
from firmware_py.facts.views.bench import BenchView, PhraseView
from firmware_py.facts.views.plates import LifeView
from firmware_py.facts.views.run import LaneView
from tui.desk import Desk
from tui.pages.plates.words import waiting_plates
from tui.pages.shared.choosing import choice
from tui.pages.shared.reading import read_name
from tui.pages.shared.time_words import printable
from tui.pages.trays.words import step_here
from tui.widgets.asking import MOST_CHOICES, Question

Do = Callable[[AnyAct], None]
ANOTHER = "another: type its name"
LONGEST_AWAY_MIN = 7 * 24 * 60.0


def routine_question(
    view: BenchView, ask: Callable[[Question], None], do: Do, *, plate: str = ""
) -> Question:
    """Ask for the routine of a new run, then for its plate, unless that is in hand."""

    def chosen(routine: str) -> None:
        if plate:
            do(OpenRun(plate=plate, routine=routine))
        else:
            ask(which_plate_question(view, routine, ask, do))

    deeds = {routine: partial(chosen, routine) for routine in view.routines}
    return choice("Open a run. Which routine? Its number:", deeds, ask)


def which_plate_question(view: BenchView, routine: str, ask: Callable[[Question], None], do: Do) -> Question:
    """Ask which of the exposed plates of the book it is; where there is none, for the name of the plate."""
    typing = plate_question(view, routine, do)
    waiting = waiting_plates(view.plates)[-MOST_CHOICES + 1 :]
    named = {named_plate(plate): plate.name for plate in waiting}
    if not named:
        return typing

    def chosen(words: str) -> None:
        if words == ANOTHER:
            ask(typing)
        else:
            do(OpenRun(plate=named[words], routine=routine))

    return Question(f"{printable(routine)}. Which plate? Its number:", chosen, choices=(*named, ANOTHER))


def named_plate(plate: LifeView) -> str:
    """Return a plate as a question names it: where it is, and its subject."""
    where = f" in side {printable(plate.side)}" if plate.side else ""
    subject = printable(plate.exposure.subject) if plate.exposure is not None else ""
    return f"{printable(plate.name)}{where}{': ' if subject else ''}{subject}"


def plate_question(view: BenchView, routine: str, do: Do) -> Question:
    """Ask for the name of the plate; the hour serves as one if nothing is typed."""
    hour = datetime.fromisoformat(view.utc).astimezone().strftime("%H:%M")
    name = f"plate of {hour}"

    def named(plate: str) -> None:
        do(OpenRun(plate=printable(plate) or name, routine=routine))

    words = f"{printable(routine)}. Name of the plate, then Enter (nothing typed: {name}):"
    return Question(words, named, start="")


def note_question(
    lane: LaneView, draft: str, desk: Desk, keep: Callable[[str], None], phrases: Sequence[PhraseView]
) -> Question:
    """Ask for a remark, beginning with what was put aside before; the down key offers ``phrases`` instead."""

    def written(text: str) -> None:
        keep("")
        if printable(text):
            desk.do(Note(text=printable(text), lane=lane.lane))

    return Question(
        f"Note for {printable(lane.plate)}, then Enter:",
        written,
        start=draft,
        draft=True,
        put_aside=keep,
        list_instead=(lambda: desk.ask(_phrase_question(lane, phrases, desk))) if phrases else None,
    )


def _phrase_question(lane: LaneView, phrases: Sequence[PhraseView], desk: Desk) -> Question:
    """Ask for a note by number: no letter chooses one, so that nothing typed can."""
    deeds = {phrase.words: partial(desk.do, Note(text=phrase.words, lane=lane.lane)) for phrase in phrases}
    return choice(f"Note for {printable(lane.plate)}. Its number:", deeds, desk.ask)


def temperature_question(lane: LaneView, do: Do) -> Question:
    """Ask for the temperature of a bath as read by hand."""

    def told(text: str) -> None:
        do(SayTemperature(bath_degC=read_bath_degC(text), lane=lane.lane))

    return Question(f"Temperature in tray {lane.lane} (19.4, or 67 F), then Enter:", told, start="")


def away_question(lane: LaneView, do: Do) -> Question:
    """Ask how long a plate lay while the bench was away."""

    def told(text: str) -> None:
        do(TakeUp(lane=lane.lane, away_s=60.0 * read_minutes(text)))

    words = f"How many minutes (12.5) did {printable(lane.plate)} lie since the bench went away? Then Enter:"
    return Question(words, told, start="")


def cut_short_question(lane: LaneView, do: Do) -> Question:
    """Ask once more before a step ends early."""
    step = step_here(lane)
    name = printable(step.name) if step else "the step"
    words = f"End {name} in tray {lane.lane} before its time?"
    return Question(words, lambda _: do(CutShort(lane=lane.lane)))


def abandon_question(lane: LaneView, do: Do) -> Question:
    """Ask once more before a run is given up."""
    words = f"Give up the run of {printable(lane.plate)}? The book keeps it."
    return Question(words, lambda _: do(Abandon(lane=lane.lane)))


def read_bath_degC(text: str) -> float:
    """Return a temperature as typed [degC]; a bare number is degrees Celsius. Raises Refused."""
    plain = text.strip().replace(",", ".")
    try:
        return float(plain)
    except ValueError:
        from firmware_py.craft.units import read_temperature_degC

        try:
            return read_temperature_degC(text, where="temperature")
        except Refused:
            allowed = "19.4 in degrees Celsius, or 67 F"
            raise Refused(f"{shown(text)} is no temperature", where="temperature", allowed=allowed) from None


def read_minutes(text: str) -> float:
    """Return minutes as typed. Raises Refused for anything that is no time a plate could have lain."""
    read_name(text, where="away", example="12.5")
    try:
        minutes = float(text.strip().replace(",", "."))
    except ValueError:
        from firmware_py.craft.units import read_time_s

        minutes = read_time_s(text, where="away") / 60.0
    if not 0.0 <= minutes <= LONGEST_AWAY_MIN:
        raise Refused(f"{shown(text)} is no time", where="away", allowed="0 to 10080 minutes, as in 12.5")
    return minutes
