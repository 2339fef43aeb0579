"""What came of a print, in lines for a person."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from firmware_py.report.told import plain


def print_lines(made: Mapping[str, Any]) -> list[str]:
    """Return the lines that tell a print's outcome: a `PrintOutcome` of the journal in plain values."""
    rehearsal = " (rehearsal)" if made["rehearsal"] else ""
    paper = f"{made['paper']}, grade {made['grade']}" if made["grade"] else made["paper"]
    lines = [f"print of {made['negative']}{rehearsal}", f"  paper     {paper}", f"  lamp      {_lamp(made)}"]
    if made["patches"]:
        lines.append(f"  strip     {_strip(made)}")
    if made["base_s"] is not None:
        lines.append(f"  base      {made['base_s']:.2f} s (from {made['base_from']})")
    lines += [f"  burn      {burn['stops']:+.2f} stops {burn['place']}".rstrip() for burn in made["burns"]]
    lines += [f"  sheet     {_sheet(sheet)}" for sheet in made["sheets"]]
    lines += [f"  verdict   {verdict}" for verdict in made["verdicts"]]
    lines += [f"  note      {note}" for note in made["notes"]]
    return [plain(line) for line in lines]


def _lamp(made: Mapping[str, Any]) -> str:
    distance = f" at {made['distance_mm']:g} mm" if made["distance_mm"] is not None else ""
    return f"{made['lamp']}{distance}, lag {made['lag_s']:.3f} s ± {made['lag_doubt_s']:.3f} s"


def _strip(made: Mapping[str, Any]) -> str:
    patches = [patch["effective_s"] for patch in made["patches"]]
    times = ", ".join("?" if time_s is None else f"{time_s:.2f}" for time_s in patches)
    chosen = f"; patch {made['chosen_patch']:g} chosen" if made["chosen_patch"] is not None else ""
    return f"{times} s by {made['method']}{chosen}"


def _sheet(sheet: Mapping[str, Any]) -> str:
    planned = "" if sheet["planned_s"] is None else f" (planned {sheet['planned_s']:.3f} s)"
    doubt = f" ± {sheet['doubt_s']:.3f} s, estimated" if sheet["doubt_s"] else ""
    lit = f"lamp on {sheet['measured_s']:.3f} s{planned}{doubt}"
    worth = f"worth {sheet['effective_s']:.3f} s of full light"
    return f"{sheet['sheet']} {sheet['kind']}, {sheet['ended'] or 'under the lamp'}: {lit}, {worth}"
