"""What a foot means at the lamp: one table, which the bench obeys, the page shows and the manual prints.

The lamp goes on when a foot is lifted and off when one is put down. So a switch that something leans on
never lights it, and stopping never waits for a foot to come up. Only in bulb mode is it the other way.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Literal

from firmware_py.bench.foot import Foot, Press
from firmware_py.bench.lamp.next_exposure import NextExposure, next_exposure
from firmware_py.bench.lamp.print_sheets import give_up_sheet
from firmware_py.bench.lamp.printing import Printing
from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_time
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.facts.views.print import FootRowView
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_states import PrintState

Situation = Literal["nothing", "ready", "under way", "rest", "lit", "bulb", "by foot", "cold", "warm", "open"]
Deed = Literal["", "go on", "stop", "give up", "put out"]


@dataclass(frozen=True, slots=True)
class FootRow:
    """What a foot does in a situation: put down, lifted after a short press, held long, lifted at all.

    Each is a deed and its words; ``{what}`` and ``{time}`` stand for the part that comes next.
    """

    situation: str
    down: tuple[Deed, str] = ("", "")
    short: tuple[Deed, str] = ("", "")
    long: tuple[Deed, str] = ("", "")
    lift: tuple[Deed, str] = ("", "")


FOOT_TABLE: Mapping[Situation, FootRow] = MappingProxyType(
    {
        "nothing": FootRow("nothing can be exposed"),
        "ready": FootRow("a fresh sheet lies ready", short=("go on", "lamp on: {what}, {time}")),
        "under way": FootRow(
            "the sheet has got a part of its light, or a strip is planned",
            short=("go on", "lamp on: {what}, {time}"),
            long=("give up", "give the sheet up"),
        ),
        "rest": FootRow(
            "an exposure was broken off",
            short=("go on", "give the {what}, {time}"),
            long=("give up", "give the sheet up"),
        ),
        "lit": FootRow(
            "an exposure goes on",
            down=("stop", "lamp off at once"),
            long=("give up", "and give the sheet up"),
        ),
        "bulb": FootRow(
            "by foot alone", down=("go on", "lamp on, as long as the foot is down"), lift=("stop", "lamp off")
        ),
        "by foot": FootRow(
            "the foot holds the lamp on", down=("stop", "lamp off"), lift=("stop", "lamp off")
        ),
        "cold": FootRow("a lamp that is kept lit is dark", short=("go on", "light the lamp")),
        "warm": FootRow(
            "the lamp is kept lit",
            short=("go on", "uncover the frame: {what}, {time}"),
            long=("put out", "lamp off"),
        ),
        "open": FootRow(
            "the frame lies uncovered",
            down=("stop", "cover the frame: the exposure ends"),
            long=("put out", "and lamp off"),
        ),
    }
)


def situation(desk: Printing) -> tuple[Situation, NextExposure | None]:
    """Return how things stand at the lamp, and what comes next where something does."""
    record = desk.record
    if record is None:
        return "nothing", None
    lit = record.lamp_lit
    is_bulb = lit is not None and lit.part == "bulb"
    going_on: dict[PrintState, Situation] = {
        "ended": "nothing",
        "announced": "by foot" if is_bulb else "lit",
        "lit": "by foot" if is_bulb else "lit",
        "uncovered": "open",
    }
    if record.state in going_on:
        return going_on[record.state], None
    try:
        coming = next_exposure(record)
    except Refused:
        coming = None
    return _situation_in_the_dark(record, coming), coming


def _situation_in_the_dark(record: PrintRecord, coming: NextExposure | None) -> Situation:
    if record.mode == "kept lit":
        return "cold" if record.state == "dark" else "warm"
    if coming is None:
        return "nothing"
    if record.mode == "bulb":
        return "bulb"
    if coming.rest:
        return "rest"
    return "under way" if record.sheet is not None else "ready"


class LampFoot:
    """The foot at the lamp, as the table says. What is refused is said, and nothing happens."""

    def __init__(self, desk: Printing, foot: Foot) -> None:
        self._desk = desk
        self._foot = foot
        self._row: FootRow | None = None

    @property
    def holds_the_lamp(self) -> bool:
        """Get whether the foot, by staying down, keeps the lamp on: then it is not stuck."""
        return self._row is not None and bool(self._row.lift[0]) and self._desk.is_exposing

    def edge(self, edge: FootEdge) -> None:
        """Take in an edge. An exposure that goes on is ended before anything else is looked at."""
        if edge.down:
            # Any foot that comes down counts here, even where another was thought to be down already.
            self._row = FOOT_TABLE[situation(self._desk)[0]]
            was_down = self._foot.is_down
            self._foot.edge(edge, long_means=True)
            if self._row.down[0] == "stop" or not was_down:
                self._do(self._row.down[0], edge.at_s)
            return
        press = self._foot.edge(edge, long_means=True)
        row_down, self._row = self._row, None
        if row_down is None:
            return
        if row_down.lift[0] and self._desk.is_exposing:
            self._do(row_down.lift[0], edge.at_s)
        elif press is not None:
            self._pressed(row_down, press, edge.at_s)

    def advance(self, press: Press | None, now_s: float) -> None:
        """Take in a long press that has lasted long enough by now."""
        if press == "long" and self._row is not None:
            self._pressed(self._row, press, now_s)

    def _pressed(self, row: FootRow, press: Press, at_s: float) -> None:
        if press == "long":
            self._do(row.long[0], at_s)
        elif row.short[0] and row is FOOT_TABLE[situation(self._desk)[0]]:
            self._do(row.short[0], at_s)

    def _do(self, deed: Deed, at_s: float) -> None:
        match deed:
            case "go on":
                self._desk.go_on("foot", at_s)
            case "stop":
                self._desk.stop("foot", at_s)
            case "give up":
                give_up_sheet(self._desk)
            case "put out":
                self._desk.darken("foot")
            case "":
                return


def foot_words(desk: Printing) -> tuple[str, str]:
    """Return what a press and a long press do next at the lamp, in words."""
    now, coming = situation(desk)
    row = FOOT_TABLE[now]
    what = coming.words if coming else ""
    time_s = coming.effective_s if coming else None
    if coming is not None and coming.too_short:
        return f"leave it as it is: {say_time(time_s or 0.0)} is too little to give", row.long[1]
    fill = {"what": what, "time": "" if time_s is None else say_time(time_s)}
    press = row.down[1] or row.short[1]
    return press.format(**fill).rstrip(", ").rstrip(": "), row.long[1].format(**fill)


def foot_rows() -> tuple[FootRowView, ...]:
    """Return the whole table in words, for the page and the manual."""
    return tuple(
        FootRowView(
            situation=row.situation,
            down=_generic(row.down[1]),
            short=_generic(row.short[1]),
            long=_generic(row.long[1]),
            lift=_generic(row.lift[1]),
        )
        for row in FOOT_TABLE.values()
    )


def _generic(words: str) -> str:
    return words.replace(": {what}, {time}", "").replace(" {what}, {time}", " rest")
