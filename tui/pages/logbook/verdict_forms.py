"""The questions that a verdict is made of, one after another, and the act that keeps it."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import get_args

from msgspec.structs import replace

from firmware_py.craft.refusal import Refused, shown
from firmware_py.craft.verdict import Contrast, Density, Fault, Fog
from firmware_py.facts.acts.book import JudgePlate
from firmware_py.facts.verdict import Verdict
from tui.desk import Desk
from tui.pages.shared.choosing import choice
from tui.pages.shared.reading import read_number
from tui.pages.shared.time_words import printable
from tui.widgets.asking import Question

MEASURES = ("fog_density", "shadow_density", "highlight_density", "gamma")
NOT_MEASURED = "-"


def verdict_question(run_id: str, plates: tuple[str, ...], desk: Desk, then: Callable[[], None]) -> Question:
    """Ask which plate is judged, where several lay there, then the rest; ``then`` follows once it is kept."""
    if len(plates) == 1:
        return _Judging(run_id, plates[0], desk, then).density()
    deeds: dict[str, Callable[[], None]] = {
        printable(plate): partial(desk.ask, _Judging(run_id, plate, desk, then).density()) for plate in plates
    }
    return choice("Judge which plate? Its number:", deeds, desk.ask)


class _Judging:
    """A verdict in the making."""

    def __init__(self, run_id: str, plate: str, desk: Desk, then: Callable[[], None]) -> None:
        self._run_id = run_id
        self._plate = plate
        self._desk = desk
        self._then = then
        self._said = Verdict()

    def density(self) -> Question:
        """Ask how dense it is, then how contrasty, then how fogged."""
        return self._one_of("density", get_args(Density), self._contrast)

    def _contrast(self) -> Question:
        return self._one_of("contrast", get_args(Contrast), self._fog)

    def _fog(self) -> Question:
        return self._one_of("fog", get_args(Fog), self._rest)

    def _one_of(self, name: str, words: tuple[str, ...], then: Callable[[], Question]) -> Question:
        def chosen(word: str) -> None:
            self._said = replace(self._said, **{name: word})
            self._desk.ask(then())

        return Question(f"{printable(self._plate)}: its {name}? The number:", chosen, choices=words)

    def _rest(self) -> Question:
        """Ask for what not every plate has, until the verdict is kept."""
        said = self._said
        faults = f", {', '.join(said.faults)}" if said.faults else ""
        measured = ", measured" if any(getattr(said, name) is not None for name in MEASURES) else ""
        words = (
            f"Density {said.density}, contrast {said.contrast}, fog {said.fog}{faults}{measured}. Keep it?"
        )
        deeds: dict[str, Callable[[], None]] = {
            "keep it: as it is, dry": partial(self._keep, "drying"),
            "keep it: by its print": partial(self._keep, "printing"),
            "a fault": lambda: self._desk.ask(self._fault()),
            "measured densities": lambda: self._desk.ask(self._measures()),
            "a remark": lambda: self._desk.ask(self._remark()),
            "shadow detail, blocked highlights": lambda: self._desk.ask(self._looked()),
        }
        return choice(words, deeds, self._desk.ask)

    def _keep(self, after: str) -> None:
        verdict = replace(self._said, after=after)
        self._desk.do(JudgePlate(run=self._run_id, plate=self._plate, verdict=verdict), then=self._then)

    def _fault(self) -> Question:
        def add(fault: str) -> None:
            self._said = replace(self._said, faults=(*self._said.faults, fault))
            self._desk.ask(self._rest())

        left = [fault for fault in get_args(Fault) if fault not in self._said.faults]
        return choice("Which fault? Its number:", {f: partial(add, f) for f in left}, self._desk.ask)

    def _measures(self) -> Question:
        def read(text: str) -> None:
            self._said = replace(self._said, **read_measures(text))
            self._desk.ask(self._rest())

        words = (
            "As read: fog, shadow, high light, gamma (0.18 0.45 1.95 -; - where not measured), then Enter:"
        )
        return Question(words, read, start="")

    def _looked(self) -> Question:
        """Ask what tells under-exposure from under-development, and blocked highlights from flat ones."""

        def answered(**known: bool) -> None:
            self._said = replace(self._said, **known)
            self._desk.ask(self._rest())

        deeds: dict[str, Callable[[], None]] = {
            "detail in the deepest shadow": partial(answered, shadow_detail=True),
            "no detail in the deepest shadow": partial(answered, shadow_detail=False),
            "highlights blocked": partial(answered, highlights_blocked=True),
            "highlights not blocked": partial(answered, highlights_blocked=False),
        }
        return choice("What does the plate show? Its number:", deeds, self._desk.ask)

    def _remark(self) -> Question:
        def written(text: str) -> None:
            self._said = replace(self._said, remark=printable(text)[:2000])
            self._desk.ask(self._rest())

        return Question("A remark, then Enter:", written, start=self._said.remark)


def read_measures(text: str) -> dict[str, float | None]:
    """Return up to four measures as typed, in the order of `MEASURES`. Raises Refused."""
    words = text[:80].split()
    if not 1 <= len(words) <= len(MEASURES):
        allowed = "fog, shadow, high light, gamma: 0.18 0.45 1.95 -"
        raise Refused(f"{shown(text)} is not one to four numbers", where="measures", allowed=allowed)
    return {
        name: None
        if word == NOT_MEASURED
        else read_number(word, where=name.replace("_", " "), example="0.45")
        for name, word in zip(MEASURES, words, strict=False)
    }
