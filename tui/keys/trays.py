"""The keys of the Trays page."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.service.shapes import LaneView
from tui.keys.use import NUMBER_KEYS, KeyUse, always
from tui.moment import Moment
from tui.words.lane import is_developing, step_after, step_here
from tui.words.times import printable

NOT_READ = frozenset({"hand", "trend", "assumed"})
OPEN_STATES = "ready running due interrupted"


def _of_lane(words: Callable[[LaneView], str]) -> Callable[[Moment], str]:
    return lambda moment: "" if moment.lane is None else words(moment.lane)


def _in(states: str, words: str) -> Callable[[Moment], str]:
    return _of_lane(lambda lane: words if lane.state in states.split() else "")


def _proceed(lane: LaneView) -> str:
    after = step_after(lane)
    return {
        "ready": "plate is in",
        "due": f"on to {printable(after.name)}" if after else "take it out",
        "interrupted": "take it up",
    }.get(lane.state, "")


def _temperature(lane: LaneView) -> str:
    """While a probe speaks, the bench takes no temperature by hand."""
    return "temperature" if lane.bath and lane.bath.source in NOT_READ else ""


def _marks(lane: LaneView) -> str:
    return "mark" if lane.state in {"running", "due"} and lane.mark_names else ""


def _cut_short(lane: LaneView) -> str:
    if lane.state != "running" or is_developing(lane):
        return ""
    step = step_here(lane)
    return f"cut {printable(step.name)} short" if step else "cut short"


TRAY_KEYS: tuple[KeyUse, ...] = (
    KeyUse(
        ("enter",),
        "Enter",
        "proceed",
        _of_lane(_proceed),
        "a tray that waits",
        "The plate is in the bath: its step begins. When a step is over: on to the next. "
        "After an interruption: take the run up, with the time away that is likely.",
    ),
    KeyUse(
        ("space",),
        "Space",
        "foot",
        _of_lane(lambda lane: "foot" if lane.foot_short else ""),
        "a tray",
        "The foot switch, pressed and let go. The page says what it does next.",
    ),
    KeyUse(
        ("f",),
        "F",
        "foot_held",
        _of_lane(lambda lane: "foot held" if lane.foot_long else ""),
        "a tray",
        "The foot switch, held down: a keyboard can not tell a long press, so it has a key of its own.",
    ),
    KeyUse(
        tuple(NUMBER_KEYS),
        "1-9",
        "mark",
        _of_lane(_marks),
        "a plate in a bath",
        "Mark what shows on the plate now; the page numbers the marks of the routine.",
        numbered=True,
    ),
    KeyUse(
        ("p",),
        "P",
        "pull",
        _of_lane(lambda lane: "PULL" if is_developing(lane) else ""),
        "a plate in the developer",
        "Pull the plate: development ends now. One press, nothing is asked.",
    ),
    KeyUse(
        ("c",),
        "C",
        "cut_short",
        _of_lane(_cut_short),
        "a plate in any other bath",
        "End the step before its time. Asked once more.",
    ),
    KeyUse(
        ("n",),
        "N",
        "note",
        _in(OPEN_STATES + " ended", "note"),
        "a tray",
        "Write a remark into the run. Escape puts it aside; N brings it back. "
        "Cues go on meanwhile and nothing typed is lost.",
    ),
    KeyUse(
        ("t",),
        "T",
        "temperature",
        _of_lane(_temperature),
        "a tray",
        "Say the bath's temperature as you read it (19.4, or 67 F), while no probe speaks.",
    ),
    KeyUse(
        ("w",),
        "W",
        "say_away",
        _in("interrupted", "how long it lay"),
        "an interrupted run",
        "Say how many minutes the plate lay in its bath while the bench was away.",
    ),
    KeyUse(("o",), "O", "open_run", always("open a run"), "always", "Open a run: a routine and a plate."),
    KeyUse(
        ("a",),
        "A",
        "abandon",
        _in(OPEN_STATES, "give up"),
        "a tray",
        "Give the run up; the book keeps it. Asked once more.",
    ),
    KeyUse(
        ("down", "tab"),
        "↓",
        "next_tray",
        always(""),
        "several trays",
        "Turn keys and foot to the next tray; ↑ to the one before.",
    ),
    KeyUse(("up", "shift+tab"), "↑", "previous_tray", always(""), "several trays", "The tray before."),
)
