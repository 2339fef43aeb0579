"""The lamp in words: what goes on or comes next, how long still, what the foot will do."""

from __future__ import annotations

from dataclasses import dataclass

from firmware_py.facts.views.bench import BenchView
from firmware_py.facts.views.print import FinishedView, LampView, PrintView
from tui.pages.lamp.print_words import open_print, seconds
from tui.pages.shared.time_words import gone_words, left_words, next_change_s, printable

LIT = frozenset({"announced", "lit", "warm", "uncovered"})
EXPOSING = frozenset({"announced", "lit", "uncovered"})
# From here on minutes are easier to read than seconds.
IN_MINUTES_S = 100.0


@dataclass(frozen=True, slots=True)
class LampWords:
    """All that is said of the lamp. ``waiting``: a sheet lies there and wants something of the person."""

    what: str = ""
    digits: str = ""
    call: str = ""
    waiting: bool = False
    dose: str = ""
    share: float | None = None
    lamp: str = ""
    refusal: str = ""
    foot: str = ""
    held: str = ""


def is_lamp_on(view: BenchView | None) -> bool:
    """Return whether the lamp is on, or about to be."""
    return view is not None and (view.lamp.on or view.lamp.state in LIT)


def is_exposing(view: BenchView | None) -> bool:
    """Return whether paper gets light now, or is about to."""
    return view is not None and view.lamp.state in EXPOSING


def strip_to_choose_from(here: PrintView) -> bool:
    """Return whether a strip is done, so that one of its patches can be chosen."""
    return here.strip is not None and here.strip.finished


def is_edition_under_way(here: PrintView) -> bool:
    """Return whether prints of the base that is set are being made: then no digit sets another by mistake."""
    is_print_lit = here.sheet is not None and here.sheet.kind == "print"
    return is_print_lit or bool(here.prints_finished and here.copies_left)


def sheets_for_baths(here: PrintView) -> tuple[FinishedView, ...]:
    """Return the finished sheets that wait for their baths, the newest first."""
    return tuple(sheet for sheet in reversed(here.finished) if sheet.run_id is None)


def newest_waits(here: PrintView) -> bool:
    """Return whether the last finished sheet waits for its baths; one left behind calls for nobody."""
    return bool(here.finished) and here.finished[-1].run_id is None


def next_by_hand(view: BenchView | None) -> str:
    """Return what Enter does at the lamp, in a few words; nothing where it does nothing."""
    if view is None or is_lamp_on(view):
        return ""
    here = open_print(view)
    if here is None:
        return "open a print"
    return "sheet into its bath" if sheets_for_baths(here) else ""


def lamp_words(view: BenchView, now_s: float, *, asking: bool = False) -> LampWords:
    """Return the words at ``now_s`` [boot s]; while the page is ``asking``, no key stands for the foot."""
    lamp, here = view.lamp, open_print(view)
    dose, share = _dose(lamp, now_s - view.as_of_s)
    return LampWords(
        what=_what(lamp, here, now_s),
        digits=large_time(lamp, now_s),
        call=_call(lamp, here),
        waiting=not is_lamp_on(view) and here is not None and _waits(here),
        dose=dose,
        share=share,
        lamp=_facts(lamp, now_s),
        refusal="" if is_exposing(view) else refusal_words(lamp, here),
        foot=_foot(lamp, asking=asking),
        held=f"Foot held{'' if asking else ', or F'}: {_held(lamp)}" if lamp.foot_long else "",
    )


def _held(lamp: LampView) -> str:
    """Return what holding the foot does, which may come on top of what its press did already."""
    does = printable(lamp.foot_long)
    return f"{printable(lamp.foot_press)}, {does}" if does.startswith("and ") else does


def _foot(lamp: LampView, *, asking: bool) -> str:
    does = printable(lamp.foot_press) or "nothing now"
    if asking:
        return f"Foot: {does}"
    if lamp.mode == "bulb" and lamp.state == "dark" and lamp.foot_press:
        # A terminal hears no key come up: the space bar can not be held.
        return f"Foot: {does}. Space: lamp on; Space again: off"
    return f"Foot, or Space: {does}"


def large_time(lamp: LampView, now_s: float) -> str:
    """Return the large digits: time left, time gone, or the light that comes next; all in seconds."""
    if lamp.state in {"lit", "uncovered"}:
        if lamp.ends_s is not None:
            return _large(max(0.0, lamp.ends_s - now_s), left=True)
        return _large(now_s - lamp.since_s, left=False) if lamp.since_s is not None else ""
    if lamp.state == "announced":
        return _tenths(lamp.wanted_s)
    return _tenths(lamp.next_s)


def next_lamp_tick_s(lamp: LampView, now_s: float) -> float:
    """Return in how many seconds of the bench the large digits of the lamp change."""
    if lamp.state not in {"lit", "uncovered"}:
        return 1.0
    if lamp.ends_s is not None:
        return next_change_s(max(0.0, lamp.ends_s - now_s), falling=True)
    return next_change_s(now_s - lamp.since_s, falling=False) if lamp.since_s is not None else 1.0


def refusal_words(lamp: LampView, here: PrintView | None) -> str:
    """Return why nothing can be lit now and what to do about it, or nothing."""
    if not lamp.blocked or (here is None and "no print" in lamp.blocked):
        return ""
    why = printable(lamp.blocked).removeprefix("lamp: ")
    for mark in ("; allowed: ", "; next: "):
        why = why.replace(mark, ". To do: ")
    return f"NOT NOW: {why}"


def _what(lamp: LampView, here: PrintView | None, now_s: float) -> str:
    doing = printable(lamp.doing)
    match lamp.state:
        case "announced":
            return f"LAMP GOES ON: {doing}"
        case "lit" | "uncovered":
            on = "LAMP ON" if lamp.state == "lit" else "UNCOVERED"
            if lamp.is_stopping:
                return f"LAMP GOES OFF: {doing}"
            return f"{on}, {doing}: {_counted(lamp, now_s)}"
        case "warm":
            return f"LAMP KEPT LIT, frame covered. Next: {printable(lamp.next) or 'nothing yet'}"
        case "dark":
            return _what_in_the_dark(lamp, here)


def _counted(lamp: LampView, now_s: float) -> str:
    if lamp.ends_s is None:
        return "seconds gone"
    return "seconds left" if lamp.ends_s > now_s or lamp.state == "lit" else "COVER IT NOW"


def _what_in_the_dark(lamp: LampView, here: PrintView | None) -> str:
    if here is None:
        return "No print is open"
    if lamp.next_s is not None:
        return f"LAMP OFF. Next: {printable(lamp.next)}, seconds"
    return f"LAMP OFF. Next: {printable(lamp.next) or _next_choice(here)}"


def _next_choice(here: PrintView) -> str:
    if here.strip is not None and here.strip.finished:
        return "the number of the best patch"
    return "T, a test strip, or B, a base"


def _call(lamp: LampView, here: PrintView | None) -> str:
    if here is None:
        return "Enter: open a print"
    if here.interrupted:
        return printable(here.interrupted)
    if lamp.state in EXPOSING:
        return _call_meanwhile(here)
    if lamp.state == "dark" and here.sheet is not None and here.sheet.owed:
        missing = f", {seconds(here.sheet.owed_s)}" if here.sheet.owed_s is not None else ""
        return f"BROKEN OFF: {printable(here.sheet.owed)} wants its rest{missing}"
    return _call_to_hands(lamp, here)


def _call_meanwhile(here: PrintView) -> str:
    """Return what a strip wants after the exposure that goes on: "then the foot" would end it."""
    if here.strip is None or here.sheet is None or here.sheet.kind != "strip":
        return ""
    return f"After this: {printable(here.strip.advice_after) or 'the strip is whole'}"


def _call_to_hands(lamp: LampView, here: PrintView) -> str:
    if here.strip is not None and here.strip.advice:
        advice = printable(here.strip.advice)
        return f"{advice[:1].upper()}{advice[1:]}, then the foot"
    if newest_waits(here) and lamp.state == "dark":
        return "Sheet into its bath, then Enter"
    return ""


def _waits(here: PrintView) -> bool:
    owed = here.sheet is not None and bool(here.sheet.owed)
    advised = here.strip is not None and bool(here.strip.advice)
    return owed or advised or newest_waits(here)


def _dose(lamp: LampView, since_seen_s: float) -> tuple[str, float | None]:
    if lamp.state not in {"lit", "uncovered"}:
        return "", None
    given_s = lamp.given_s + max(0.0, since_seen_s) * lamp.given_rate
    if lamp.wanted_s is None:
        return f"Dose {given_s:.1f} s of full light", None
    given_s = min(given_s, lamp.wanted_s) if lamp.state == "lit" else given_s
    return f"Dose {given_s:.1f} of {seconds(lamp.wanted_s)}", min(1.0, given_s / lamp.wanted_s)


def _facts(lamp: LampView, now_s: float) -> str:
    if lamp.state == "dark" and lamp.next_on_s is not None:
        lag = f": lag {lamp.lag_s:.2f} ±{lamp.lag_doubt_s:.2f}" if lamp.lag_s else ""
        words = f"Lamp on for {lamp.next_on_s:.2f} s{lag}"
    elif lamp.off_by_s is not None:
        words = f"Off by itself in {left_words(lamp.off_by_s - now_s)} at the latest"
    elif lamp.lit_since_s is not None:
        words = f"Lit for {gone_words(now_s - lamp.lit_since_s)}"
    else:
        words = {"timed": "By time", "bulb": "By foot alone", "kept lit": "Kept lit, a hand exposes"}[
            lamp.mode
        ]
    return words if lamp.safelight == "unchanged" else f"{words}; safelight {lamp.safelight} meanwhile"


def _large(time_s: float, *, left: bool) -> str:
    if time_s >= IN_MINUTES_S:
        return left_words(time_s) if left else gone_words(time_s)
    minutes, _, rest = (left_words(time_s) if left else gone_words(time_s)).partition(":")
    return str(60 * int(minutes) + int(rest))


def _tenths(time_s: float | None) -> str:
    if time_s is None:
        return ""
    return f"{time_s:.1f}" if time_s < IN_MINUTES_S else left_words(time_s)
