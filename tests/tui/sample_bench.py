"""A bench as a screen may see it: the plates are invented, the numbers only have to look alive."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import StepKind
from firmware_py.facts.acts.run import AnyAct
from firmware_py.facts.views.bench import BenchView, NoticeView, RelayView
from firmware_py.facts.views.run import (
    BathTemperature,
    CueView,
    EndingView,
    LaneView,
    MarkView,
    PrecedentView,
    StepView,
)
from firmware_py.service.book_questions import AnyAnswer, AnyQuestion
from firmware_py.service.client import LinkLost

NOW_S = 5000.0
MARKS = ("image appears", "sky is up", "shadow detail shows", "image through to the back", "fog")
STEPS: tuple[tuple[str, StepKind, str, float], ...] = (
    ("Develop", "develop", "pyro-soda developer", 300.0),
    ("Stop", "stop", "water with a little acetic acid", 30.0),
    ("Fix", "fix", "plain hypo, 25 per cent", 600.0),
    ("Wash", "wash", "running water", 1800.0),
)
LAST_FIX = 2


def steps(here: int) -> tuple[StepView, ...]:
    return tuple(
        StepView(
            name=name,
            kind=kind,
            bath=bath,
            planned_s=planned_s,
            place="done" if n < here else "here" if n == here else "to come",
        )
        for n, (name, kind, bath, planned_s) in enumerate(STEPS)
    )


def bath(**changes) -> BathTemperature:
    sample = BathTemperature(
        bath_degC=17.4, tolerance_K=0.5, read_at_s=NOW_S - 1.0, source="probe", trend_K_per_min=-0.12
    )
    return msgspec.structs.replace(sample, **changes)


def lane(number: int = 1, **changes) -> LaneView:
    """A plate two minutes into its developer."""
    sample = LaneView(
        lane=number,
        run_id=f"run-{number}",
        plate=f"half plate {number}, breakwater at low tide",
        routine="Pyro-soda in trays",
        state="running",
        steps=steps(0),
        step=0,
        started_s=NOW_S - 120.0,
        due_s=NOW_S + 187.4,
        doubt_s=8.2,
        equivalent_s=113.0,
        target_s=300.0,
        reference_degC=18.0,
        rate=0.97,
        bath=bath(),
        marks=(
            MarkView(what="image appears", elapsed_s=41.0, equivalent_s=39.0),
            MarkView(what="sky is up", elapsed_s=78.0, equivalent_s=75.0),
        ),
        mark_names=MARKS,
        next_cue=CueView(words="Rock the tray, left edge up", due_s=NOW_S + 12.0),
        foot_short="mark: shadow detail shows",
        foot_long="pull the plate",
    )
    made = msgspec.structs.replace(sample, **changes)
    is_fixed = made.state == "ended" or made.step > LAST_FIX
    return msgspec.structs.replace(made, is_open=changes.get("is_open", not is_fixed))


def fixing(number: int, **changes) -> LaneView:
    """A plate in the fixer."""
    plain = {
        "state": "running",
        "steps": steps(2),
        "step": 2,
        "equivalent_s": None,
        "target_s": None,
        "rate": None,
        "reference_degC": None,
        "bath": None,
        "doubt_s": None,
        "marks": (),
        "due_s": NOW_S + 400.0,
        "next_cue": None,
        "foot_short": "",
        "foot_long": "cut Fix short",
    }
    return lane(number, **{**plain, **changes})


def bench(*lanes: LaneView, **changes) -> BenchView:
    """A rehearsed bench with ``lanes``, the first in focus."""
    sample = BenchView(
        as_of_s=NOW_S,
        speed=1.0,
        utc="2031-05-04T14:05:11+00:00",
        rehearsal=True,
        focus=lanes[0].lane if lanes else None,
        lanes=lanes,
        relays=(
            RelayView(name="safelight", on=True, why="a person asked"),
            RelayView(name="printing-lamp", on=False, why="safe since start"),
        ),
        probes=(),
        notices=(),
        routines=("pyro-soda", "metol-hydroquinone"),
    )
    return msgspec.structs.replace(sample, **changes)


def due(number: int, **changes) -> LaneView:
    """A plate that is over its time in the fixer."""
    over = {"state": "due", "due_s": NOW_S - 73.0, "needs": "on to Wash", "foot_short": "move on: Wash"}
    return fixing(number, **{**over, "foot_long": "", "urgency": 3, **changes})


def ready(number: int, **changes) -> LaneView:
    """A plate that is laid ready."""
    laid = {
        "state": "ready",
        "due_s": None,
        "started_s": None,
        "equivalent_s": None,
        "doubt_s": None,
        "marks": (),
        "next_cue": None,
        "foot_short": "plate into pyro-soda developer: Develop begins",
        "foot_long": "",
        "needs": "plate into pyro-soda developer",
        "urgency": 7,
    }
    return lane(number, **{**laid, **changes})


def ended(number: int, **changes) -> LaneView:
    """A run that is over."""
    over = {"state": "ended", "due_s": None, "equivalent_s": None, "next_cue": None, "urgency": 8}
    return lane(number, **{**over, "foot_short": "", "foot_long": "", **changes})


def by_eye(number: int, **changes) -> LaneView:
    """Two plates in one tray, developed by inspection, with the clocks beside it and what the book knows."""
    endings = (
        EndingView(by="time", ends=False, due_s=NOW_S + 187.4, equivalent_s=300.0),
        EndingView(by="appearance", ends=False, due_s=NOW_S + 95.0, equivalent_s=204.75),
        EndingView(by="ceiling", ends=False, due_s=NOW_S + 700.0, equivalent_s=780.0),
    )
    seen = {"ends": ("inspection",), "endings": endings, "due_by": "ceiling", "due_s": NOW_S + 700.0}
    seen |= {"factor": 5.25, "plates": ("half plate 3", "half plate 4"), "window": (16.0, 24.0)}
    seen |= {"precedent": PrecedentView(plates=12, low_s=250.0, median_s=290.0, high_s=340.0)}
    return lane(number, **{**seen, "rock_every_s": 30.0, **changes})


def six_lanes() -> BenchView:
    """Six trays as the bench sorts them, the first of the list not the one in focus."""
    washing = fixing(4, steps=steps(3), step=3, due_s=NOW_S + 1500.0, light_allowed="white")
    return bench(
        due(2),
        lane(1),
        fixing(3),
        washing,
        ready(5),
        ended(6),
        focus=1,
        most_urgent=2,
        notices=(
            NoticeView(words="Probe of tray 3 is silent", since_s=NOW_S - 20, trouble=True),
            NoticeView(words="half plate 1: Rock the tray, right edge up", since_s=NOW_S - 18),
        ),
    )


class SampleLink:
    """A line that shows what the test puts on it, and keeps what the screen asked for.

    While ``waits_for`` is not set, nothing is answered.
    """

    def __init__(self, *shown: BenchView | LinkLost) -> None:
        self.asked: list[AnyAct] = []
        self.refuses = ""
        self.waits_for: asyncio.Event | None = None
        self.questions: list[AnyQuestion] = []
        self.book: Callable[[AnyQuestion], AnyAnswer] | None = None
        self._coming: asyncio.Queue[BenchView | LinkLost] = asyncio.Queue()
        for view in shown:
            self.show(view)

    def show(self, view: BenchView | LinkLost) -> None:
        self._coming.put_nowait(view)

    async def watch(self) -> AsyncIterator[BenchView | LinkLost]:
        while True:
            yield await self._coming.get()

    async def do(self, act: AnyAct) -> None:
        await self._wait()
        self.asked.append(act)
        if self.refuses:
            raise Refused(self.refuses)

    async def _wait(self) -> None:
        if self.waits_for is not None:
            await self.waits_for.wait()

    async def ask(self, question: AnyQuestion) -> AnyAnswer:
        await self._wait()
        self.questions.append(question)
        if self.book is None:
            raise Refused("there is no book to ask")
        return self.book(question)
