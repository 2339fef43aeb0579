"""A script that plays the person in a rehearsal: what to do, and when, as a TOML file."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from importlib import resources
from pathlib import Path
from typing import Annotated, Literal, Protocol

import msgspec

from firmware_py.bench import acts
from firmware_py.bench.bench import Bench
from firmware_py.bench.print_script import LAMP_KEYS, lamp_act
from firmware_py.bench.upkeep_script import UPKEEP_KEYS, UpkeepDeed, upkeep_act
from firmware_py.craft.refusal import Refused
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.strict_toml import DegC, Seconds, read_toml

When = Literal["due", "developed", "ended", "dark"]
FaultName = Literal[
    "probe silent",
    "probe at 85 degC",
    "probe jumps",
    "probe drifts",
    "probe well",
    "jacket probe silent",
    "jacket probe at 85 degC",
    "jacket probe jumps",
    "jacket probe drifts",
    "jacket probe well",
    "heater relay stuck",
    "heater dead",
    "heater well",
]
Words = Annotated[str, msgspec.Meta(min_length=1, max_length=200)]

# What can be done; each is a key of a deed.
DEEDS = (
    "open",
    "foot",
    "mark",
    "note",
    "pull",
    "temperature",
    "safelight",
    "fault",
    "proceed",
    *LAMP_KEYS,
    *UPKEEP_KEYS,
)
SHORT_S = 0.15
HOLD_S = 1.5


class FaultMaker(Protocol):
    """Whatever can play a fault on the simulated bench."""

    def play_fault(self, fault: FaultName) -> None:
        """Let a fault begin, or end."""
        ...


class OpenText(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``open = { plate = "…", routine = "…" }``."""

    plate: Words
    routine: Words


class Deed(UpkeepDeed, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """``[[deed]]``: one thing done, at a time of the session, or once something is so, ``later`` after it.

    ``when = "dark"`` is when no exposure goes on; the other three speak of the run in focus.
    """

    at: Seconds | None = None
    when: When | None = None
    later: Seconds = Seconds(0.0)
    open: OpenText | None = None
    foot: Literal["press", "hold"] | None = None
    mark: Words | None = None
    note: Words | None = None
    pull: Literal[True] | None = None
    temperature: DegC | None = None
    safelight: Literal["on", "off"] | None = None
    fault: FaultName | None = None
    proceed: Literal[True] | None = None

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        super().__post_init__()
        if (self.at is None) == (self.when is None):
            raise ValueError("needs either `at` or `when`, and not both")
        if sum(getattr(self, key) is not None for key in DEEDS) != 1:
            raise ValueError(f"needs exactly one of {', '.join(f'`{key}`' for key in DEEDS)}")
        for key, value in (("at", self.at), ("later", self.later)):
            if value is not None and not 0.0 <= value <= 86400.0:
                raise ValueError(f"`{key}` is {value:g} s; allowed: 0 s to 86400 s")


class Script(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A script file: its deeds are done in the order they stand in."""

    title: Words
    deed: Annotated[list[Deed], msgspec.Meta(min_length=1, max_length=10_000)]

    def __post_init__(self) -> None:
        """Refuse times that go back."""
        last = 0.0
        for number, deed in enumerate(self.deed, 1):
            if deed.at is not None:
                if deed.at < last:
                    raise ValueError(f"deed {number}: `at` {deed.at:g} s lies before {last:g} s of one above")
                last = deed.at


def read_script(path: Path) -> Script:
    """Return the script in a file. Raises Refused with file, key, what was found and what is allowed."""
    return read_toml(path, Script)


def shipped_script(name: str) -> Script:
    """Return a script that comes with Embertray."""
    with resources.as_file(resources.files("firmware_py.data") / "scripts" / f"{name}.toml") as path:
        return read_script(path)


@dataclass(slots=True)
class ScriptedPerson:
    """Plays a script on a bench. ``start_s`` [boot s] is time 0 of its ``at``; ``world`` plays its faults."""

    script: Script
    start_s: float
    world: FaultMaker
    _next: int = 0
    _due_s: float | None = None
    _lift_s: float | None = None
    refused: list[str] = field(default_factory=list)

    def next_due_s(self, bench: Bench) -> float | None:
        """Return the next moment [boot s] at which something is done; None while waiting for the bench."""
        if self._lift_s is not None:
            return self._lift_s
        self._look(bench)
        return self._due_s

    def play(self, bench: Bench) -> None:
        """Do everything that is due by now."""
        while (due_s := self.next_due_s(bench)) is not None and due_s <= bench.clock.now_s():
            if self._lift_s is not None:
                self._lift_s = None
                bench.step_on(FootEdge(down=False, at_s=bench.clock.now_s()))
            else:
                deed = self.script.deed[self._next]
                self._next += 1
                self._due_s = None
                self._do(bench, deed)

    def is_over(self, bench: Bench) -> bool:
        """Return whether every deed is done, or can never be, and no step is going on."""
        if self._lift_s is not None or self.next_due_s(bench) is not None:
            return False
        if bench.lamp_side.printing.is_exposing:
            return False
        return all(lane.record.state != "running" for lane in bench.runs.lanes.values())

    def _look(self, bench: Bench) -> None:
        if self._due_s is not None or self._next >= len(self.script.deed):
            return
        deed = self.script.deed[self._next]
        if deed.at is not None:
            self._due_s = self.start_s + deed.at
        elif deed.when is not None and _is_so(bench, deed.when):
            self._due_s = bench.clock.now_s() + deed.later

    def _do(self, bench: Bench, deed: Deed) -> None:
        now_s = bench.clock.now_s()
        try:
            if deed.foot is not None:
                self._lift_s = now_s + (SHORT_S if deed.foot == "press" else HOLD_S)
                bench.step_on(FootEdge(down=True, at_s=now_s))
            elif deed.fault is not None:
                self.world.play_fault(deed.fault)
            else:
                bench.do(_act(deed))
        except Refused as refusal:
            self.refused.append(refusal.line)


def _act(deed: Deed) -> acts.AnyAct:
    elsewhere = lamp_act(deed) or upkeep_act(deed)
    if elsewhere is not None:
        return elsewhere
    if deed.open is not None:
        return acts.OpenRun(plate=deed.open.plate, routine=deed.open.routine)
    if deed.mark is not None:
        return acts.Mark(what=deed.mark)
    if deed.note is not None:
        return acts.Note(text=deed.note)
    return _plain_act(deed)


def _plain_act(deed: Deed) -> acts.AnyAct:
    if deed.temperature is not None:
        return acts.SayTemperature(bath_degC=float(deed.temperature))
    if deed.safelight is not None:
        return acts.SwitchSafelight(on=deed.safelight == "on")
    return acts.Proceed() if deed.proceed else acts.Pull()


def _is_so(bench: Bench, when: When) -> bool:
    if when == "dark":
        return not bench.lamp_side.printing.is_exposing
    lane = bench.runs.lanes.get(bench.runs.focus) if bench.runs.focus is not None else None
    if lane is None:
        return False
    record = lane.record
    checks: Mapping[When, bool] = {
        "due": record.state == "due",
        "developed": record.development is not None and record.development.ended_s is not None,
        "ended": record.state == "ended",
    }
    return checks[when]
