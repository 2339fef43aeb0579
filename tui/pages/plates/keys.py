"""The keys of the Plates page."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.facts.views.plates import PlatesView
from tui.moment import Moment
from tui.pages.shared.key_use import NUMBER_KEYS, KeyUse, always


def _with(some: Callable[[PlatesView], object], words: str) -> Callable[[Moment], str]:
    return lambda moment: words if moment.view is not None and some(moment.view.plates) else ""


def _in_sides(view: PlatesView) -> bool:
    return any(plate.side for plate in view.plates)


KEYS: tuple[KeyUse, ...] = (
    KeyUse(
        ("enter",),
        "Enter",
        "plate",
        _with(lambda view: view.plates, "more"),
        "a plate",
        "More about the plate that is chosen: not exposed after all, fixed, washed or dry where no run says "
        "so, filed, broken, a remark.",
    ),
    KeyUse(
        ("i",),
        "I",
        "load",
        _with(lambda view: view.holders, "load"),
        "an empty side",
        "Put the next plate of a box into the side that is chosen, or into the next empty one. "
        "One key where there is one box.",
    ),
    KeyUse(
        ("u",),
        "U",
        "unload",
        _with(_in_sides, "unload"),
        "a full side",
        "Take the plate out of the side that is chosen, back into a box.",
    ),
    KeyUse(
        ("e",),
        "E",
        "exposed",
        _with(_in_sides, "exposed"),
        "a full side",
        "The plate in the side that is chosen is exposed; W says so as well. Enter can take that back.",
    ),
    KeyUse(
        ("w",),
        "W",
        "write",
        _with(lambda view: view.plates, "exposure"),
        "a plate that was loaded",
        "Write down its exposure, line by line. Enter keeps what stands there: that of the side before, "
        "but for the stop: ? is not noted. "
        "A letter writes anew; ↑ is the line before; Escape leaves it all as it was.",
        types=True,
    ),
    KeyUse(
        ("o",),
        "O",
        "open_run",
        _with(lambda view: view.plates, "develop it"),
        "a plate",
        "Develop the plate that is chosen: a run is opened with it, and the Trays page goes on. The steps of "
        "the run move the plate on by themselves.",
    ),
    KeyUse(
        ("n",),
        "N",
        "new",
        always("new"),
        "always",
        "Enter a box of plates, then a holder: both come before anything can be loaded.",
    ),
    KeyUse(
        tuple(NUMBER_KEYS),
        "1-9",
        "choose",
        always(""),
        "several rows",
        "Choose the row of that number; ↓ and ↑ choose the next and the one before.",
        numbered=True,
    ),
    KeyUse(
        ("down", "tab"),
        "↓",
        "next_row",
        _with(lambda v: v.holders, "↑ choose"),
        "several rows",
        "The next row.",
    ),
    KeyUse(("up", "shift+tab"), "↑", "previous_row", always(""), "several rows", "The row before."),
)
