"""``embertray status``: whether a controller runs, which, and what lies open on its bench."""

from __future__ import annotations

import argparse
import json
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from tui.commands.arguments import named

if TYPE_CHECKING:
    from firmware_py.facts.views.run import LaneView
    from firmware_py.service.ending import Running


def add_status(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``embertray status``."""
    parser = commands.add_parser(
        "status",
        help="say whether a controller runs, and what is open on its bench",
        description="Say whether a controller runs for the configured bench (or the simulated one), and what "
        "is open on it.",
    )
    parser.add_argument("--socket", type=named, metavar="PATH", help="the controller that listens there")
    parser.add_argument("--json", action="store_true", help="print it as JSON")


def run_status(args: argparse.Namespace) -> int:
    """Print what runs; returns 0. Raises Refused where it may not be asked."""
    from firmware_py.service.ending import running
    from firmware_py.service.place import bench_place

    path = args.socket or bench_place().socket
    found = running(path)
    if args.json:
        print(json.dumps(_figures(found, path), ensure_ascii=False))
    else:
        print("\n".join(_lines(found, path)))
    return 0


def _lines(found: Running | None, path: Path) -> Iterator[str]:
    if found is None:
        yield f"No controller runs at {path}"
        return
    bench = "the simulated bench" if found.bench.rehearsal else "the configured bench"
    by = ", run by the service manager" if found.is_managed else ""
    yield f"Controller {found.program} runs on {bench} (process {found.pid}{by}) at {path}"
    for lane in _open_runs(found):
        yield f"  run {lane.lane}: {lane.plate}, {lane.state}"
    for notice in found.bench.notices:
        yield f"  ! {notice.words}"
    if not _open_runs(found):
        yield "  no run is open"
    yield "  end it: embertray stop; read the settings again: embertray restart"


def _figures(found: Running | None, path: Path) -> dict[str, Any]:
    if found is None:
        return {"running": False, "socket": str(path)}
    return {
        "running": True,
        "socket": str(path),
        "pid": found.pid,
        "program": found.program,
        "rehearsal": found.bench.rehearsal,
        "managed": found.is_managed,
        "runs": [{"run": lane.lane, "plate": lane.plate, "state": lane.state} for lane in _open_runs(found)],
        "lamp_on": found.bench.lamp.on,
        "notices": [notice.words for notice in found.bench.notices],
    }


def _open_runs(found: Running) -> list[LaneView]:
    return sorted((lane for lane in found.bench.lanes if lane.state != "ended"), key=lambda lane: lane.lane)
