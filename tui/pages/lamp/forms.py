"""The questions of the Lamp page, and the acts that follow from the answers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import partial

from firmware_py.facts.acts.print import (
    AddBurn,
    ChangeDistance,
    ChangePaper,
    ChoosePatch,
    GiveVerdict,
    NotePrint,
    OpenPrint,
    PlanStrip,
    SetBase,
    WantCopies,
)
from firmware_py.facts.acts.run import AnyAct
from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.print import PrintView
from tui.desk import Desk
from tui.pages.lamp.print_words import seconds
from tui.pages.shared.choosing import choice
from tui.pages.shared.reading import read_count, read_mm, read_number, read_seconds
from tui.pages.shared.time_words import printable
from tui.widgets.asking import MOST_CHOICES, Question

# What can be laid on paper: a plate that is washed or further.
PRINTABLE = frozenset({"washed", "dry", "filed"})
PAPER_FORM = "paper? Its name; its grade, speed and range where known: gaslight, 2, speed 200, range 1.05"


def typed(desk: Desk, words: str, act: Callable[[str], AnyAct | None], start: str = "") -> Question:
    """Return a question for a line of text, and ask the bench for the act that it makes."""

    def answered(text: str) -> None:
        wanted = act(text)
        if wanted is not None:
            desk.do(wanted)

    return Question(words, answered, start=start)


def negative_question(view: BenchView, desk: Desk) -> Question:
    """Ask for the negative of a new print, one at hand or by its name, then for its paper."""
    name = _likely_negative(view)

    def named(text: str) -> None:
        desk.ask(_paper_of_new_print(view, desk, printable(text) or name))

    typing = Question(f"Print which negative? Then Enter (nothing typed: {name}):", named, start="")
    at_hand = [plate.name for plate in view.plates.plates if plate.stage in PRINTABLE][-MOST_CHOICES + 1 :]
    if not at_hand:
        return typing
    deeds: dict[str, Callable[[], None]] = {printable(one): partial(named, one) for one in at_hand}
    deeds["another: type its name"] = lambda: desk.ask(typing)
    return choice("Print which negative? Its number:", deeds, desk.ask)


def _likely_negative(view: BenchView) -> str:
    plates = [lane for lane in view.lanes if lane.state == "ended"]
    if view.print is not None:
        return printable(view.print.negative)
    if plates:
        return printable(plates[-1].plate)
    return f"negative of {datetime.fromisoformat(view.utc).astimezone():%H:%M}"


def _paper_of_new_print(view: BenchView, desk: Desk, negative: str) -> Question:
    # Without a word the paper is the one that lay there before, with all that was known of it.
    before = Paper("paper") if view.print is None else _paper_before(view.print)

    def act(text: str) -> AnyAct:
        paper = read_paper(text) if printable(text) else before
        return OpenPrint(
            negative=negative,
            paper=paper.name,
            grade=paper.grade,
            paper_log_range=paper.log_range,
            paper_speed=paper.speed,
        )

    return typed(desk, f"On which {PAPER_FORM}.\nNothing typed: {printable(before.name)}. Then Enter:", act)


@dataclass(frozen=True, slots=True)
class Paper:
    """A paper with what is known of it."""

    name: str
    grade: str = ""
    log_range: float | None = None
    speed: float | None = None


def _paper_before(before: PrintView) -> Paper:
    return Paper(before.paper, before.grade, before.paper_log_range, before.paper_speed)


def read_paper(text: str) -> Paper:
    """Return a paper as typed, parts parted by commas: name, grade, ``speed 200``, ``range 1.05``."""
    name, *rest = (printable(part) for part in text.split(","))
    grade, known = "", dict[str, float]()
    for part in rest:
        word, _, value = part.partition(" ")
        if word.lower() in {"speed", "range"}:
            known[word.lower()] = read_number(value, where=word.lower(), example="speed 200, range 1.05")
        else:
            grade = part
    return Paper(name, grade, known.get("range"), known.get("speed"))


def base_question(desk: Desk) -> Question:
    """Ask for the base time."""
    words = "Base time, seconds of full light (8, or 1:30), then Enter:"
    return typed(desk, words, lambda text: SetBase(base_s=read_seconds(text, where="base")))


STRIPS: dict[str, PlanStrip] = {
    "7 patches, 1/2 stop, cover one after the other": PlanStrip(),
    "7 patches, 1/3 stop, cover": PlanStrip(step_stops=1 / 3),
    "5 patches, 1 stop, cover": PlanStrip(patches=5, step_stops=1.0),
    "7 patches, 1/4 stop, cover": PlanStrip(step_stops=0.25),
    "7 patches, 1/2 stop, open one after the other": PlanStrip(method="uncovering"),
    "5 patches, 1 stop, open": PlanStrip(patches=5, step_stops=1.0, method="uncovering"),
}


def strip_question(here: PrintView, desk: Desk) -> Question:
    """Ask for the kind of a test strip, then for its middle."""

    def chosen(words: str) -> None:
        desk.ask(_middle_question(here, desk, STRIPS[words]))

    return Question("Test strip. Its number:", chosen, choices=tuple(STRIPS))


def _middle_question(here: PrintView, desk: Desk, plan: PlanStrip) -> Question:
    def act(text: str) -> AnyAct:
        middle_s = read_seconds(text, where="middle") if text.strip() or here.base_s is None else None
        return PlanStrip(
            patches=plan.patches, step_stops=plan.step_stops, method=plan.method, middle_s=middle_s
        )

    base = f" (nothing typed: {seconds(here.base_s)})" if here.base_s is not None else ""
    return typed(desk, f"Its middle, seconds of full light (8, or 1:30){base}, then Enter:", act)


def burn_question(desk: Desk) -> Question:
    """Ask for a burn: stops first, then the place."""

    def act(text: str) -> AnyAct:
        parts = text.split()
        figures = [part for part in parts if part[0].isdigit() or part[0] in "+.,"]
        stops = read_number(" ".join(figures).replace("+", ""), where="burn", example="1/2 sky")
        return AddBurn(stops=stops, place=printable(" ".join(part for part in parts if part not in figures)))

    return typed(desk, "Burn: how many stops more, and where (1/2 sky), then Enter:", act)


def copies_question(desk: Desk) -> Question:
    """Ask how many more prints are wanted."""

    def act(text: str) -> AnyAct:
        return WantCopies(copies=read_count(text, where="repeats") if text.strip() else None)

    return typed(desk, "How many more prints? Then Enter (nothing typed: as many as the foot asks for):", act)


def between_question(desk: Desk) -> Question:
    """Ask for a place between two patches."""

    def act(text: str) -> AnyAct:
        return ChoosePatch(place=read_number(text, where="patch", example="3.5: half-way from 3 to 4"))

    return typed(desk, "Which place on the strip is right (3.5: half-way from 3 to 4)? Then Enter:", act)


def distance_question(desk: Desk) -> Question:
    """Ask for another distance of the lamp."""

    def act(text: str) -> AnyAct:
        return ChangeDistance(distance_mm=read_mm(text, where="distance"))

    return typed(desk, "Lamp to frame, in mm (or 24 in), then Enter; the base follows:", act)


def paper_question(desk: Desk) -> Question:
    """Ask for another paper."""

    def act(text: str) -> AnyAct | None:
        if not printable(text):
            return None
        paper = read_paper(text)
        return ChangePaper(
            paper=paper.name, grade=paper.grade, paper_log_range=paper.log_range, paper_speed=paper.speed
        )

    return typed(desk, f"Another {PAPER_FORM}, then Enter:", act)


def verdict_question(desk: Desk) -> Question:
    """Ask what came of the print."""

    def act(text: str) -> AnyAct | None:
        return GiveVerdict(verdict=printable(text)) if printable(text) else None

    return typed(desk, "What came of the print? Then Enter:", act)


def note_question(desk: Desk) -> Question:
    """Ask for a remark on the print."""

    def act(text: str) -> AnyAct | None:
        return NotePrint(text=printable(text)) if printable(text) else None

    return typed(desk, "Note on the print, then Enter:", act)
