"""A person who types a sentence into a note, by the keys of the real screen, slowly or fast."""

from __future__ import annotations

from random import Random

from tests.faults.evidence import Struck
from tests.faults.kinds.fault import Fault, Needs
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage

# Every letter and sign of these is a key of the Trays page: marks, pull, cut short, safelight, foot, give up.
WORDS = (
    *("sky", "up", "pull", "fog", "x3", "back", "cut", "Yes", "zone", "more", "at", "top", "2", "1+", "off"),
    *("foot", "held", "water", "new", "in bath", "MARK", "z", "u", "b-c", "light"),
)
PAUSES_S = (0.03, 0.5)
# So long the whole sentence takes at most, and so long the fault is watched [s].
TYPED_WITHIN_S, WATCHED_S = 5.0, 8.0
SHORTEST, LONGEST = 8, 36
# A person looks whether the line stands there before pressing Enter, and presses Escape where it does not.
SHOWN_WITHIN_S = 1.5


def _begin(stage: Stage, dice: Random, struck: Struck) -> None:
    struck.at_s = now_s()
    pause_s = dice.uniform(*PAUSES_S)
    most = max(SHORTEST, min(LONGEST, int(TYPED_WITHIN_S / pause_s)))
    text = " ".join(dice.sample(WORDS, k=12))[:most].strip()
    struck.notes |= {"text": text, "pause_s": pause_s, "left": "n" + text, "next_s": now_s(), "stood": None}


def _type(stage: Stage, struck: Struck) -> None:
    """Press every key whose time has come."""
    notes, terminal = struck.notes, stage.terminal
    if terminal is None or notes["stood"] is not None:
        return
    while notes["left"] and now_s() >= notes["next_s"]:
        terminal.press(notes["left"][0])
        notes["left"] = notes["left"][1:]
        notes["next_s"] += notes["pause_s"]
    if notes["left"]:
        return
    stands = _stands(stage, notes["text"])
    if stands or now_s() > notes["next_s"] + SHOWN_WITHIN_S:
        notes["stood"] = stands
        terminal.press("\r" if stands else "\x1b")


def _stands(stage: Stage, text: str) -> bool:
    """Return whether the sentence stands on the page, in the line of a note."""
    shown = stage.shown()
    return "Note for" in shown and text in shown


FAULTS = (
    Fault(
        "a sentence typed into a note",
        "the note is in the book as typed; no sign of it does anything else",
        _begin,
        hold=_type,
        lasts_s=(WATCHED_S, WATCHED_S),
        needs=Needs.PLATE | Needs.SCREEN,
    ),
)
TYPED = FAULTS[0].name
