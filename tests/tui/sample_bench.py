"""A bench as a screen may see it: the plates are invented, the numbers only have to look alive."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable

import msgspec

from firmware_py.craft.refusal import Refused
from firmware_py.service.book_questions import AnyAnswer, AnyQuestion
from firmware_py.service.client import LinkLost
from firmware_py.service.shapes import (
    AnyAct,
    BathTemperature,
    BenchView,
    CueView,
    LaneView,
    MarkView,
    NoticeView,
    RelayView,
    StepView,
)

NOW_S = 5000.0
MARKS = ("image appears", "sky is up", "shadow detail shows", "image through to the back", "fog")
STEPS = (
    ("Develop", "develop", "pyro-soda developer", 300.0),
    ("Stop", "stop", "water with a little acetic acid", 30.0),
    ("Fix", "fix", "plain hypo, 25 per cent", 600.0),
    ("Wash", "wash", "running water", 1800.0),
)


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
    return msgspec.structs.replace(sample, **changes)


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


def six_lanes() -> BenchView:
    return bench(
        lane(1),
        fixing(2, state="due", due_s=NOW_S - 73.0, foot_short="move on: Wash"),
        fixing(3),
        fixing(4, steps=steps(3), step=3, due_s=NOW_S + 1500.0),
        lane(
            5,
            state="ready",
            due_s=None,
            started_s=None,
            equivalent_s=None,
            doubt_s=None,
            marks=(),
            next_cue=None,
        ),
        lane(6, state="ended", due_s=None, equivalent_s=None, next_cue=None, foot_short="", foot_long=""),
        notices=(
            NoticeView(words="Probe of tray 3 is silent", since_s=NOW_S - 20, trouble=True),
            NoticeView(words="half plate 1: Rock the tray, right edge up", since_s=NOW_S - 18),
        ),
    )


class SampleLink:
    """A line that shows what the test puts on it, and keeps what the screen asked for."""

    def __init__(self, *shown: BenchView | LinkLost) -> None:
        self.asked: list[AnyAct] = []
        self.refuses = ""
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
        self.asked.append(act)
        if self.refuses:
            raise Refused(self.refuses)

    async def ask(self, question: AnyQuestion) -> AnyAnswer:
        self.questions.append(question)
        if self.book is None:
            raise Refused("there is no book to ask")
        return self.book(question)
