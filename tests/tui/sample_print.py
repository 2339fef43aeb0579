"""A print as a screen may see it, on the sample bench: invented, and only meant to look alive."""

from __future__ import annotations

import msgspec

from firmware_py.facts.views.bench import BenchView, RelayView
from firmware_py.facts.views.print import (
    BurnView,
    FinishedView,
    LampView,
    PatchView,
    PrintView,
    SheetView,
    StripView,
)
from tests.tui.sample_bench import NOW_S, bench

STRIP_S = (2.83, 4.0, 5.66, 8.0, 11.3, 16.0, 22.6)
BLOCKED = (
    "interlock 1: the printing lamp stays off while plate 'half plate 2, harbour wall' is open in run 1 "
    "(Develop); allowed: fix it first"
)


def lamp(**changes) -> LampView:
    """A lamp that is dark, the base coming next."""
    sample = LampView(
        name="60 W opal lamp",
        on=False,
        mode="timed",
        state="dark",
        next="base",
        next_s=8.0,
        next_on_s=8.11,
        foot_press="lamp on: base, 8 s",
        lag_s=0.11,
        lag_doubt_s=0.01,
        longest_on_s=600.0,
    )
    return msgspec.structs.replace(sample, **changes)


def lit(**changes) -> LampView:
    """A lamp that has been on for 3.2 s of the 8.1 s for the base."""
    plain = {
        "on": True,
        "state": "lit",
        "doing": "base",
        "next": "",
        "next_s": None,
        "next_on_s": None,
        "since_s": NOW_S - 3.2,
        "lit_since_s": NOW_S - 3.2,
        "ends_s": NOW_S + 4.9,
        "off_by_s": NOW_S + 5.9,
        "wanted_s": 8.0,
        "given_s": 3.1,
        "given_rate": 1.0,
        "foot_press": "lamp off at once",
        "foot_long": "and give the sheet up",
    }
    return lamp(**{**plain, **changes})


def strip(exposed: int = 7, chosen: int | None = 4) -> StripView:
    """A strip of seven, ``exposed`` of its exposures done."""
    done = exposed == len(STRIP_S)
    patches = tuple(
        PatchView(patch=n, wanted_s=time_s, given_s=time_s if done else None, chosen=n == chosen)
        for n, time_s in enumerate(STRIP_S, 1)
    )
    advice = "" if done else f"cover patches 1 to {exposed}" if exposed else "leave all of it open"
    return StripView(
        method="covering",
        step_stops=0.5,
        patches=patches,
        exposed=exposed,
        finished=done,
        advice=advice,
        advice_after="" if done else f"cover patches 1 to {exposed + 1}",
    )


def a_print(**changes) -> PrintView:
    """A print whose strip is done and whose patch is chosen, with one burn and two prints still wanted."""
    sample = PrintView(
        print_id="print-1",
        negative="breakwater at low tide",
        run_id="run-1",
        paper="warm bromide",
        grade="grade 2",
        paper_log_range=None,
        paper_speed=None,
        distance_mm=600.0,
        is_open=True,
        base_s=8.0,
        base_from="patch",
        strip=strip(),
        chosen_patch=4.0,
        burns=(BurnView(burn=1, stops=0.5, place="sky", extra_s=3.31, given=False),),
        copies_left=2,
        prints_finished=1,
        sheet=None,
        finished=(FinishedView(sheet=1, kind="print", measured_s=8.11, effective_s=8.0, run_id="run-9"),),
        program=None,
    )
    return msgspec.structs.replace(sample, **changes)


def strip_under_way() -> PrintView:
    """A print with nothing but a strip, two of its exposures done."""
    sheet = SheetView(sheet=1, kind="strip", given_s=4.0, wanted_s=22.6, half_exposed=True)
    return a_print(
        base_s=None,
        base_from=None,
        strip=strip(2, None),
        chosen_patch=None,
        burns=(),
        copies_left=None,
        prints_finished=0,
        sheet=sheet,
        finished=(),
    )


def broken_off() -> PrintView:
    """A print whose sheet got but 3.1 of its 8 s."""
    sheet = SheetView(
        sheet=3,
        kind="print",
        given_s=3.1,
        wanted_s=8.0,
        half_exposed=True,
        owed="base",
        owed_s=4.9,
    )
    return a_print(sheet=sheet)


def printing(one: PrintView | None, lamp_view: LampView, *lanes, **changes) -> BenchView:
    """The sample bench with a print under its lamp and the foot there."""
    relays = (
        RelayView(name="safelight", on=True, why="a person asked"),
        RelayView(name="printing-lamp", on=lamp_view.on, why="exposure"),
    )
    plain = {
        "lamp": lamp_view,
        "print": one,
        "relays": relays,
        "foot": lamp_view.foot_press,
        "foot_serves": "lamp",
    }
    return bench(*lanes, **{**plain, **changes})


LAMP_SCENES = {
    "lamp": printing(a_print(), lamp()),
    "lamp-lit": printing(a_print(), lit()),
    "lamp-strip": printing(
        strip_under_way(),
        lamp(
            next="strip, exposure 3 of 7",
            next_s=1.66,
            next_on_s=1.77,
            foot_press="lamp on: strip, exposure 3 of 7, 1.66 s",
            foot_long="give the sheet up",
        ),
    ),
    "lamp-rest": printing(
        broken_off(),
        lamp(
            next="rest of base",
            next_s=4.9,
            next_on_s=5.01,
            foot_press="give the rest of base, 4.9 s",
            foot_long="give the sheet up",
        ),
    ),
    "lamp-refused": printing(a_print(), lamp(blocked=BLOCKED, foot_press="")),
}
