"""The keys of the Trays page."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.facts.views.run import LaneView
from tui.moment import Moment
from tui.pages.shared.key_use import NUMBER_KEYS, KeyUse, always
from tui.pages.shared.time_words import printable
from tui.pages.trays.words import back_left_s, is_developing, step_after, step_here

NOT_READ = frozenset({"hand", "trend", "assumed"})
OPEN_STATES = "ready running due interrupted"


def _of_lane(words: Callable[[LaneView], str]) -> Callable[[Moment], str]:
    return lambda moment: "" if moment.lane is None else words(moment.lane)


def _in(states: str, words: str) -> Callable[[Moment], str]:
    return _of_lane(lambda lane: words if lane.state in states.split() else "")


def _proceed(lane: LaneView) -> str:
    if lane.wash is not None and lane.wash.change_due_s is not None:
        return "water changed" if lane.needs else ""
    after = step_after(lane)
    return {
        "ready": "plate is in",
        "due": f"on to {printable(after.name)}" if after else "take it out",
        "interrupted": "take it up"
        if lane.away is None or lane.away.likely_s is not None
        else "how long it lay",
    }.get(lane.state, "")


def _temperature(lane: LaneView) -> str:
    """While a probe speaks, the bench takes no temperature by hand."""
    return "temperature" if lane.bath and lane.bath.source in NOT_READ else ""


def _has_hidden_marks(lane: LaneView) -> bool:
    return len(lane.mark_names) > 9 or any(not key.isdecimal() for key in lane.mark_keys)


def _urgent(moment: Moment) -> str:
    view = moment.view
    is_elsewhere = view is not None and view.most_urgent not in {None, view.focus}
    return "urgent tray" if is_elsewhere else ""


def _cut_short(lane: LaneView) -> str:
    if lane.state != "running" or is_developing(lane):
        return ""
    step = step_here(lane)
    return f"cut {printable(step.name)} short" if step else "cut short"


def _back_in(moment: Moment) -> str:
    lane = moment.lane
    return "PUT IT BACK" if lane is not None and back_left_s(lane, moment.now_s) is not None else ""


KEYS: tuple[KeyUse, ...] = (
    KeyUse(
        ("enter",),
        "Enter",
        "proceed",
        _of_lane(_proceed),
        "a tray that waits",
        "The plate is in the bath: its step begins. When a step is over: on to the next. "
        "When the water of a wash is due: it is changed. "
        "After an interruption: take the run up, with the time away that is likely.",
    ),
    KeyUse(
        ("space",),
        "Space",
        "foot",
        always(""),
        "a tray",
        "The foot switch, pressed and let go. The page says what it does next.",
    ),
    KeyUse(
        ("f",),
        "F",
        "foot_held",
        always(""),
        "a tray",
        "The foot switch, held down: a keyboard can not tell a long press, so it has a key of its own.",
    ),
    KeyUse(
        tuple(NUMBER_KEYS),
        "1-9",
        "mark",
        always(""),
        "a plate in a bath",
        "Mark what shows on the plate now. The keys are those of your list of marks; a letter of that list "
        "marks as well, where this page has no other use for it.",
        numbered=True,
    ),
    KeyUse(
        ("m",),
        "M",
        "marks",
        _of_lane(lambda lane: "more marks" if _has_hidden_marks(lane) else ""),
        "a plate in a bath",
        "All marks with their keys: for those that find no room or no free key on the page.",
    ),
    KeyUse(
        ("b",),
        "B",
        "take_back",
        _of_lane(lambda lane: "mark back" if lane.marks and lane.state in {"running", "due"} else ""),
        "a plate in a bath",
        "Take the last mark of this step back: it was a mistake. The book keeps both.",
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
        ("z",),
        "Z",
        "take_back_pull",
        _back_in,
        "for 15 s after a pull",
        "Put the plate back into its developer: the pull was a mistake. The count goes on, "
        "the seconds between count as development; the book keeps both. "
        "A short press of the foot does the same. "
        "Not for a plate that has been in the stop bath.",
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
        "Write a remark into the run; every sign goes into the line until Enter or Escape. "
        "↓ offers the phrases of your list by number instead. "
        "Escape puts what is typed aside; N brings it back. "
        "Cues go on meanwhile and nothing typed is lost.",
        types=True,
    ),
    KeyUse(
        ("t",),
        "T",
        "temperature",
        _of_lane(_temperature),
        "a tray",
        "Say the bath's temperature as you read it (19.4, or 67 F), while no probe speaks.",
        types=True,
    ),
    KeyUse(
        ("w",),
        "W",
        "say_away",
        _in("interrupted", "how long it lay"),
        "an interrupted run",
        "Say how many minutes the plate lay in its bath while the bench was away.",
        types=True,
    ),
    KeyUse(("o",), "O", "open_run", always("open a run"), "always", "Open a run: a routine and a plate."),
    KeyUse(
        ("j",),
        "J",
        "correct_plate",
        _in(OPEN_STATES.replace(" interrupted", " ended"), "wrong plate"),
        "a tray",
        "Correct the plate of a run that was opened with the wrong one: choose the right one, or type its "
        "name. The wrong plate is then where it was before, in its side or its box. The book keeps both.",
    ),
    KeyUse(
        ("a",),
        "A",
        "abandon",
        _in(OPEN_STATES, "give up"),
        "a tray",
        "Give the run up; the book keeps it. Asked once more.",
    ),
    KeyUse(
        ("u",),
        "U",
        "urgent_tray",
        _urgent,
        "several trays",
        "Turn keys and foot to the tray that needs you most: the one in the bar on top.",
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
