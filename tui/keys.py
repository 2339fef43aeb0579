"""The one table of keys: what each does, where, in which words. Bindings, pages and Help are made from it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from firmware_py.service.shapes import LaneView
from tui.words.lane import step_after, step_here
from tui.words.times import printable

MARK_KEYS = "123456789"
NOT_READ = frozenset({"hand", "trend", "assumed"})


@dataclass(frozen=True, slots=True)
class KeyUse:
    """A key (its names for Textual), what it is called on screen, the act behind it, and the words for both.

    ``brief`` gives the few words for the foot of the page, or nothing where the key does not hold;
    ``where`` and ``help`` are what the Help page says.
    """

    keys: tuple[str, ...]
    label: str
    act: str
    brief: Callable[[LaneView | None], str]
    where: str
    help: str


def _in(states: str, words: str) -> Callable[[LaneView | None], str]:
    def brief(lane: LaneView | None) -> str:
        return words if lane is not None and lane.state in states.split() else ""

    return brief


def _always(words: str) -> Callable[[LaneView | None], str]:
    return lambda _: words


def _proceed(lane: LaneView | None) -> str:
    if lane is None:
        return ""
    after = step_after(lane)
    return {
        "ready": "plate is in",
        "due": f"on to {printable(after.name)}" if after else "take it out",
        "interrupted": "take it up",
    }.get(lane.state, "")


def _foot(lane: LaneView | None) -> str:
    return "foot" if lane is not None and lane.foot_short else ""


def _foot_held(lane: LaneView | None) -> str:
    return "foot held" if lane is not None and lane.foot_long else ""


def _temperature(lane: LaneView | None) -> str:
    """While a probe speaks, the bench takes no temperature by hand."""
    return "temperature" if lane is not None and lane.bath and lane.bath.source in NOT_READ else ""


def _marks(lane: LaneView | None) -> str:
    if lane is None or lane.state not in {"running", "due"} or not lane.mark_names:
        return ""
    return "mark"


def is_developing(lane: LaneView | None) -> bool:
    """Return whether the plate lies in a developer now."""
    return lane is not None and lane.state == "running" and lane.equivalent_s is not None


def _pull(lane: LaneView | None) -> str:
    return "PULL" if is_developing(lane) else ""


def _cut_short(lane: LaneView | None) -> str:
    if lane is None or lane.state != "running" or is_developing(lane):
        return ""
    step = step_here(lane)
    return f"cut {printable(step.name)} short" if step else "cut short"


OPEN_STATES = "ready running due interrupted"

KEYS: tuple[KeyUse, ...] = (
    KeyUse(
        ("enter",),
        "Enter",
        "proceed",
        _proceed,
        "a tray that waits",
        "The plate is in the bath: its step begins. When a step is over: on to the next. "
        "After an interruption: take the run up, with the time away that is likely.",
    ),
    KeyUse(
        ("space",),
        "Space",
        "foot",
        _foot,
        "a tray",
        "The foot switch, pressed and let go. The page says what it does next.",
    ),
    KeyUse(
        ("f",),
        "F",
        "foot_held",
        _foot_held,
        "a tray",
        "The foot switch, held down: a keyboard can not tell a long press, so it has a key of its own.",
    ),
    KeyUse(
        tuple(MARK_KEYS),
        "1-9",
        "mark",
        _marks,
        "a plate in a bath",
        "Mark what shows on the plate now; the page numbers the marks of the routine.",
    ),
    KeyUse(
        ("p",),
        "P",
        "pull",
        _pull,
        "a plate in the developer",
        "Pull the plate: development ends now. One press, nothing is asked.",
    ),
    KeyUse(
        ("c",),
        "C",
        "cut_short",
        _cut_short,
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
        _temperature,
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
    KeyUse(("o",), "O", "open_run", _always("open a run"), "always", "Open a run: a routine and a plate."),
    KeyUse(
        ("down", "tab"),
        "↓",
        "next_tray",
        _always(""),
        "several trays",
        "Turn keys and foot to the next tray; ↑ to the one before.",
    ),
    KeyUse(("up", "shift+tab"), "↑", "previous_tray", _always(""), "several trays", "The tray before."),
    KeyUse(("s",), "S", "safelight", _always("safelight"), "always", "Switch the safelight on or off."),
    KeyUse(
        ("plus", "equals_sign"),
        "+ -",
        "brighter",
        _always("light"),
        "always",
        "This screen one step brighter or darker, of nine; remembered.",
    ),
    KeyUse(("minus",), "-", "darker", _always(""), "always", "One step darker."),
    KeyUse(
        ("a",),
        "A",
        "abandon",
        _in(OPEN_STATES, "give up"),
        "a tray",
        "Give the run up; the book keeps it. Asked once more.",
    ),
    KeyUse(("h", "question_mark", "f1"), "H", "help", _always("help"), "always", "This page."),
    KeyUse(
        ("q",),
        "Q",
        "leave",
        _always("leave"),
        "always",
        "Leave the screen. Runs go on without it; the terminal stays red until you say otherwise.",
    ),
)
