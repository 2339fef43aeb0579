"""The whole of a commissioning: the gear opened, the steps in order, the report and bench.toml at the end."""

from __future__ import annotations

import contextlib
import platform
from collections.abc import AsyncIterator, Awaitable, Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from types import MappingProxyType

from firmware_py import __version__
from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock
from firmware_py.service.commissioning import fog, foot, lamp, probes, relays
from firmware_py.service.commissioning.draft import Draft
from firmware_py.service.commissioning.gear import Gear, opened
from firmware_py.service.commissioning.person import Person, ask_yes
from firmware_py.service.commissioning.session import Session
from firmware_py.service.commissioning.simulated_gear import SimulatedGear
from firmware_py.service.starting import answers
from firmware_py.settings import Settings
from firmware_py.settings.paths import settings_path, socket_path, state_folder

STEPS: Mapping[str, Callable[[Session], Awaitable[None]]] = MappingProxyType(
    {
        "relays": relays.try_relays,
        "probes": probes.identify,
        "ice": probes.hold_in_ice,
        "foot": foot.measure_bounce,
        "timing": lamp.time_the_lamp,
        "fog": fog.test_fog,
        "lag": lamp.test_the_lag,
    }
)
MODEL = Path("/proc/device-tree/model")
REHEARSED = """
[relay.safelight]
pin = 17

[relay.printing-lamp]
pin = 22
longest_on = "600 s"

[foot-switch]
body = "gpio"
pin = 5
"""
OPENING = (
    "Commissioning: one step after the other, on the real bench. Every question can be answered with "
    "skip. Nothing is written before the end; leave with Ctrl-C and all is as it was."
)
REHEARSAL = "REHEARSAL: the bench is simulated. Nothing is switched, and no number here is a measurement."


@dataclass(frozen=True, slots=True)
class Request:
    """What was asked for: the file to begin from and the ones to write (None: beside it), and which steps."""

    config: Path | None = None
    write: Path | None = None
    report: Path | None = None
    rehearsal: bool = False
    steps: Sequence[str] = tuple(STEPS)


async def commission(request: Request, person: Person) -> None:
    """Lead the person through the steps; raises Refused where the bench cannot be opened or written."""
    path = request.config or (None if request.rehearsal else settings_path())
    draft = _draft(path, rehearsal=request.rehearsal)
    target = request.write or (None if request.rehearsal else path)
    async with _gear(draft.settings, rehearsal=request.rehearsal) as gear:
        session = Session(person, gear, draft)
        person.say(REHEARSAL if request.rehearsal else OPENING)
        for name in request.steps:
            await STEPS[name](session)
    await _finish(session, target, request)


def _draft(path: Path | None, *, rehearsal: bool) -> Draft:
    if path is not None:
        return Draft.of(path)
    if not rehearsal:
        raise Refused(
            "no bench.toml was found",
            where="commission",
            allowed="--config FILE, such as a copy of hardware/bench.toml, or --rehearsal",
        )
    return Draft(REHEARSED, where="simulated bench")


@contextlib.asynccontextmanager
async def _gear(settings: Settings, *, rehearsal: bool) -> AsyncIterator[Gear]:
    if rehearsal:
        simulated = SimulatedGear(settings)
        try:
            yield simulated
        finally:
            await simulated.aclose()
        return
    if answers(socket_path(settings, state_folder(settings))):
        raise Refused(
            "the controller of this bench is running",
            where="commission",
            allowed="a bench at rest: sudo systemctl stop embertray",
        )
    async with opened(settings) as gear:
        yield gear


async def _finish(session: Session, target: Path | None, request: Request) -> None:
    now = BootClock().utc()
    session.begin("What is written")
    if not session.draft.changes:
        session.note("Nothing of bench.toml is to be changed.")
    for change in session.draft.changes:
        session.note(change)
    if target is None:
        session.note("A rehearsal without --write: no bench.toml is written.")
    elif session.draft.changes and await ask_yes(session.person, f"Write {target}?"):
        mark = " in a REHEARSAL: nothing of it is measured" if request.rehearsal else ""
        kept = session.draft.write(target, now=now, heading=f"Commissioned {now:%Y-%m-%d %H:%M} UTC{mark}.")
        session.note(f"{target} is written" + (f"; the old one is kept as {kept}." if kept else "."))
    elif session.draft.changes:
        session.note(f"{target} was left as it is.")
    report = request.report or (
        target.with_name(f"commissioning-{now:%Y%m%dT%H%M%S}.txt") if target else None
    )
    if report is not None:
        write_report(report, session.found, now, rehearsal=request.rehearsal)
        session.person.say(f"The report is in {report}.")


def write_report(
    path: Path, found: Sequence[tuple[str, list[str]]], now: datetime, *, rehearsal: bool
) -> None:
    """Write what was found; raises Refused where it cannot be written."""
    model = MODEL.read_text("utf-8", "replace").strip("\0\n") if MODEL.exists() else platform.machine()
    lines = [
        f"Commissioning of an Embertray bench, {now:%Y-%m-%d %H:%M} UTC",
        *([REHEARSAL] if rehearsal else []),
        f"Embertray {__version__}, Python {platform.python_version()}, kernel {platform.release()}, {model}",
    ]
    for step, words in found:
        lines += ["", step, *(f"  - {each}" for each in words or ["nothing"])]
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    except OSError as error:
        raise Refused(f"cannot be written ({error.strerror})", where=str(path)) from error
