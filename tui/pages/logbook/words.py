"""The pages of the book in words: the list of runs, one run, two beside one another."""

from __future__ import annotations

import math
from collections.abc import Sequence

from firmware_py.craft.shutter import say_exposure
from firmware_py.journal.outcome import MarkOutcome, RunOutcome, VerdictOutcome
from firmware_py.service.book_questions import ExposureLine, RunLine
from tui.pages.shared.time_words import cut, printable, time_words

# What rounds to no tenth of a kelvin is not told.
SHOWN_K = 0.05
# Columns of the list at 80; plate and box take what a wider screen has more, and the developer has some.
_DATE, _WORTH, _VERDICT, _WIDE = 13, 6, 24, 110


def list_head(width: int) -> str:
    """Return the headings of the list."""
    return cut(_columns("  Opened", ("Plate", "Box", "Developer"), ("Worth", "Verdict"), width), width)


def list_line(
    run: RunLine, width: int, *, here: bool = False, kept: bool = False, among_real: bool = False
) -> str:
    """Return a run as a line: the one chosen points, one kept for comparing has a star.

    A rehearsal ``among_real`` runs is called one.
    """
    plate = f"{run.plate} (REHEARSAL)" if run.rehearsal and among_real else run.plate
    sign = "►" if here else "*" if kept else " "
    worth = time_words(round(run.equivalent_s)) if run.equivalent_s else ""
    day = f"{sign} {run.opened_utc[:10]}"
    names, came = (plate, run.box, run.developer), (worth, short_verdict(run))
    return cut(_columns(day, names, came, width), width)


def short_verdict(run: RunLine) -> str:
    """Return the verdict on the first plate in a few words, or where its run stands."""
    if run.density is None or run.contrast is None:
        return "" if run.ended in {"time", "appearance", "pulled", "ceiling"} else run.ended or run.state
    if run.density == run.contrast == "right":
        words = "right"
    else:
        words = ", ".join(one for one in (run.density, run.contrast) if one != "right")
    return f"{words}, fog" if run.fog not in {None, "none"} else words


def _columns(day: str, names: tuple[str, str, str], came: tuple[str, str], width: int) -> str:
    worth, verdict = came
    shown = names if width >= _WIDE else names[:2]
    verdict_room = min(_VERDICT + max(0, width - 100), 34)
    room = max(8, (width - _DATE - _WORTH - verdict_room - len(shown) - 1) // len(shown))
    cells = [f"{cut(printable(name), room):<{room}}" for name in shown]
    return f"{day:<{_DATE}}{' '.join(cells)} {worth:>{_WORTH}}  {cut(verdict, verdict_room)}"


def run_title(run: RunOutcome) -> str:
    """Return what stands over the page of a run."""
    others = f" and {len(run.plates) - 1} more" if len(run.plates) > 1 else ""
    rehearsal = "   REHEARSAL" if run.rehearsal else ""
    return f" {printable(run.plate)}{others}   {printable(run.routine)}{rehearsal}"


def run_facts(run: RunOutcome, exposures: Sequence[ExposureLine] = ()) -> list[str]:
    """Return what the page of a run says under its curve."""
    box = f"Box {printable(run.box)}, " if run.box else ""
    lines = [f"{box}{printable(run.developer)}, opened {run.opened_utc[:16].replace('T', ' ')} UTC"]
    lines += [f"Exposed {exposure_words(one, run)}" for one in exposures]
    lines += [f"Developed {development_words(run)}"] if run.elapsed_s is not None else []
    marks = [f"{n} {_mark(mark)}" for n, mark in enumerate(run.marks, 1)]
    lines += [f"Marks: {', '.join(marks)}"] if marks else []
    # What became of paper is said of its print, on the Lamp page.
    unjudged = ["Not judged yet: V"] if run.sheet == "plate" else []
    lines += [f"Verdict: {verdict_words(one, run)}" for one in run.verdicts] or unjudged
    lines += [f"Note: {printable(note)}" for note in run.notes]
    return lines


def exposure_words(exposed: ExposureLine, run: RunOutcome) -> str:
    """Return what is noted of an exposure; the plate is named where several lay in the tray."""
    noted = exposed.noted
    side = f"in side {printable(exposed.side)}" if exposed.side else ""
    time = say_exposure(noted.time_s) if noted.time_s is not None else ""
    said = [
        noted.taken[:16].replace("T", " "),
        side,
        f"{time} {noted.stop}".strip(),
        noted.sky,
        noted.subject,
    ]
    if exposed.more_stops is not None:
        said.append(f"{_beside(exposed.more_stops)} ± {exposed.doubt_stops or 0.0:.1f}")
    plate = f"of {printable(exposed.plate)} " if len(run.plates) > 1 else ""
    return plate + ", ".join(printable(one) for one in said if one)


def _beside(more_stops: float) -> str:
    return "as daylight said" if abs(more_stops) < 0.05 else f"{more_stops:+.1f} stop beside daylight"


def _mark(mark: MarkOutcome) -> str:
    """Return a mark with its moment; in which step, where that is not the developer."""
    step = "" if mark.equivalent_s is not None else f" in {printable(mark.step)}"
    return f"{printable(mark.what)} {time_words(round(mark.elapsed_s))}{step}"


def development_words(run: RunOutcome) -> str:
    """Return time by the clock, what it was worth, the bath's temperatures, and whether they were tested."""
    said = time_words(round(run.elapsed_s or 0.0))
    if run.equivalent_s is not None and run.target_s is not None:
        said += f", worth {time_words(round(run.equivalent_s))} of {time_words(round(run.target_s))}"
        said += f" at {run.reference_degC:g} °C"
    bath = run.bath_degC
    if bath is not None:
        said += f"; bath {bath.min:.1f} to {bath.max:.1f}, mean {bath.mean:.1f} °C"
    if run.outside is not None and abs(run.outside.furthest_K) >= SHOWN_K:
        said += f"; OUTSIDE THE TESTED RANGE by {abs(run.outside.furthest_K):.1f} K"
    return said


def verdict_words(verdict: VerdictOutcome, run: RunOutcome) -> str:
    """Return a verdict whole; the plate is named where several lay in the tray."""
    plate = f"{printable(verdict.plate)}: " if len(run.plates) > 1 else ""
    measured = [
        f"{name} {value:.2f}"
        for name, value in (
            ("shadow", verdict.shadow_density),
            ("high light", verdict.highlight_density),
            ("fog", verdict.fog_density),
            ("gamma", verdict.gamma),
        )
        if value is not None
    ]
    said = [f"density {verdict.density}", f"contrast {verdict.contrast}", f"fog {verdict.fog}"]
    said += [
        *verdict.faults,
        *measured,
        *_looked_for(verdict),
        *([printable(verdict.remark)] if verdict.remark else []),
    ]
    return f"{plate}after {verdict.after}: {', '.join(said)}"


def _looked_for(verdict: VerdictOutcome) -> list[str]:
    """Return what was looked for on a plate and found, or not."""
    shadow = {True: "detail in the shadows", False: "no detail in the shadows"}
    blocked = {True: "highlights blocked", False: "highlights not blocked"}
    return [
        words[seen]
        for words, seen in ((shadow, verdict.shadow_detail), (blocked, verdict.highlights_blocked))
        if seen is not None
    ]


def steps_bar(run: RunOutcome, width: int) -> str:
    """Return the steps as they lasted side by side, each with its name and time, a longer one wider.

    Not in proportion: a night on the rack would leave no room for the developer.
    """
    lasted = [(printable(step.name), step.elapsed_s or 0.0) for step in run.steps]
    whole = sum(math.log1p(time_s) for _, time_s in lasted)
    if not lasted or whole <= 0:
        return ""
    least = 6
    room = max(0, width - least * len(lasted))
    pieces = []
    for name, time_s in lasted:
        wide = least + int(room * math.log1p(time_s) / whole)
        words = f"{name} {time_words(round(time_s))}"
        pieces.append(f"{cut(words if len(words) < wide else name, wide - 1):<{wide - 1}}")
    return cut("│".join(pieces), width)


def comparison(first: RunOutcome, second: RunOutcome, width: int) -> list[str]:
    """Return two runs side by side, a line for each thing worth comparing."""
    rows = zip(_compared(first), _compared(second), strict=True)
    room = (width - 13) // 2
    head = [f"{'':12} {'SOLID LINE':<{room}}{'HATCHED LINE':<{room}}"]
    return head + [
        f"{name:<12} {cut(one, room - 1):<{room}}{cut(other, room - 1)}".rstrip()
        for (name, one), (_, other) in rows
    ]


def _compared(run: RunOutcome) -> Sequence[tuple[str, str]]:
    bath, verdict = run.bath_degC, next(iter(run.verdicts), None)
    return (
        ("Plate", printable(run.plate)),
        ("Box", printable(run.box)),
        ("Developer", printable(run.developer)),
        ("Opened", run.opened_utc[:16].replace("T", " ")),
        ("By the clock", time_words(round(run.elapsed_s)) if run.elapsed_s is not None else ""),
        ("Worth", _worth(run)),
        ("Bath", f"{bath.min:.1f} to {bath.max:.1f}, mean {bath.mean:.1f} °C" if bath else ""),
        ("Appeared", time_words(round(run.appeared_s)) if run.appeared_s is not None else ""),
        ("Density", verdict.density if verdict else "not judged" if run.sheet == "plate" else ""),
        ("Contrast", verdict.contrast if verdict else ""),
        ("Fog, faults", ", ".join((verdict.fog, *verdict.faults)) if verdict else ""),
    )


def _worth(run: RunOutcome) -> str:
    if run.equivalent_s is None or run.reference_degC is None:
        return ""
    return f"{time_words(round(run.equivalent_s))} at {run.reference_degC:g} °C"
