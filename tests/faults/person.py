"""The person of a session: looks at the bench, does what comes next, and does needless things in between.

An errand looks at the view and says what to do; the person's dice decide when, and what else. Nothing is
remembered that a person could not see, so errands go on after any fault.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any, Protocol

from tests.faults.evidence import Asked
from tests.faults.stage.folder import ROUTINE
from tests.faults.stage.moments import now_s
from tests.faults.stage.stage import Stage

Act = dict[str, Any]
View = dict[str, Any]
THINKS_S = (0.06, 0.25)
# A person asks again where no answer came; the client itself gives up after 5 s.
PATIENCE_S = 2.0


class Errand(Protocol):
    """Something the person wants done at the bench."""

    def next(self, view: View, dice: Random) -> Act | None:
        """Return what to ask for now, nothing while there is nothing to do."""
        ...


class Developing:
    """Plate after plate goes through the routine, with marks and notes."""

    def __init__(self) -> None:
        self._plates = 0

    def next(self, view: View, dice: Random) -> Act | None:
        lane = next((lane for lane in view["lanes"] if lane["state"] != "ended"), None)
        if lane is None:
            if len(view["baths"]) == 1:
                return None  # the second bottle is on its way
            self._plates += 1
            return {"act": "open-run", "plate": f"Skarnholm {self._plates}", "routine": ROUTINE}
        of = {"lane": lane["lane"]}
        match lane["state"]:
            case "interrupted":
                told = {} if dice.random() < 0.5 else {"away_s": 0.5, "doubt_s": 0.5}
                return {"act": "take-up", **told, **of}
            case "ready" | "due" if lane["back_until_s"] is None or dice.random() < 0.7:
                return {"act": "proceed", **of}
        # A pull was a mistake sometimes: while it can be taken back, the person may do so.
        if lane["back_until_s"] is not None and dice.random() < 0.3:
            return {"act": "take-back-pull", **of}
        return self._meanwhile(lane, dice) | of if dice.random() < 0.5 else None

    def _meanwhile(self, lane: View, dice: Random) -> Act:
        marks = lane["mark_names"]
        may: list[Act] = [
            {"act": "note", "text": "the corner is lighter"},
            {"act": "say-temperature", "bath_degC": 20.0},
            {"act": "mark", "what": dice.choice(marks) if marks else "none"},
            {"act": "cut-short"},
            {"act": "pull"},
        ]
        return dice.choice(may)


class Bottles:
    """Two bottles of one fixer stand on the bench; sometimes the person says which of them it is."""

    def next(self, view: View, dice: Random) -> Act | None:
        if len(view["baths"]) < 2:
            return {"act": "make-bath", "formula": "plain-hypo", "volume_ml": 1000.0}
        for lane in view["lanes"]:
            step = lane["steps"][lane["step"]] if lane["step"] < len(lane["steps"]) else None
            choices = step["bath_choices"] if step is not None else ()
            if choices and lane["state"] == "running" and dice.random() < 0.1:
                return {"act": "name-bath", "bath": dice.choice(choices), "lane": lane["lane"]}
        return None


class Printing:
    """Exposure after exposure under the lamp, timed or by hand, some of them broken off."""

    def __init__(self) -> None:
        self._negatives = 0

    def next(self, view: View, dice: Random) -> Act | None:
        shown, lamp = view["print"], view["lamp"]
        if shown is None or not shown["is_open"]:
            self._negatives += 1
            return {
                "act": "open-print",
                "negative": f"Skarn light {self._negatives}",
                "paper": "contact paper",
            }
        if shown["base_s"] is None:
            return {"act": "set-base", "base_s": dice.choice([0.3, 0.8, 2.0, 4.0])}
        if lamp["state"] == "dark":
            return self._in_the_dark(lamp, dice)
        return dice.choice([{"act": "stop-exposure"}, {"act": "put-out"}]) if dice.random() < 0.15 else None

    def _in_the_dark(self, lamp: View, dice: Random) -> Act:
        if dice.random() < 0.2:
            other = "bulb" if lamp["mode"] == "timed" else "timed"
            return {"act": "choose-lamp-mode", "mode": other}
        if dice.random() < 0.15:
            return dice.choice([{"act": "give-up-sheet"}, {"act": "set-base", "base_s": 1.0}])
        return {"act": "expose"}


class Holding(Printing):
    """Exposures that only a foot would end, and none does: the ceiling has to."""

    def next(self, view: View, dice: Random) -> Act | None:
        shown, lamp = view["print"], view["lamp"]
        if shown is None or not shown["is_open"]:
            return super().next(view, dice)
        if lamp["state"] != "dark":
            return None
        return {"act": "expose"} if lamp["mode"] == "bulb" else {"act": "choose-lamp-mode", "mode": "bulb"}


class Heating:
    """The water shall be warm."""

    def next(self, view: View, dice: Random) -> Act | None:
        heater = view["heater"]
        if heater is None or (heater["set_degC"] is not None and heater["state"] != "stopped"):
            return None
        return {"act": "set-heat", "set_degC": 26.0}


class Writing:
    """Notes with a number each: what the book has acknowledged can be counted by them."""

    def __init__(self) -> None:
        self._notes = 0

    def next(self, view: View, dice: Random) -> Act | None:
        self._notes += 1
        text = f"storm note {self._notes:04d}"
        if any(lane["state"] != "ended" for lane in view["lanes"]):
            lane = next(lane for lane in view["lanes"] if lane["state"] != "ended")
            return {"act": "note", "text": text, "lane": lane["lane"]}
        if view["print"] is not None and view["print"]["is_open"]:
            return {"act": "note-print", "text": text}
        return None


ERRANDS: dict[str, type[Errand]] = {
    "bottles": Bottles,
    "develop": Developing,
    "print": Printing,
    "hold": Holding,
    "heat": Heating,
    "write": Writing,
}


class Person:
    """Plays errands on a stage. Also presses the foot, where the dice say so."""

    def __init__(self, stage: Stage, errands: tuple[str, ...], dice: Random, *, uses_foot: bool) -> None:
        self._stage = stage
        self._dice = dice
        self._errands = [ERRANDS[name]() for name in errands]
        self._uses_foot = uses_foot
        self._tickets = 0
        self._next_s = 0.0
        self._view: View | None = None
        self._down = False
        stage.hearing = self._hear

    def live(self) -> None:
        """Do what it is time for."""
        if now_s() < self._next_s:
            return
        self._next_s = now_s() + self._dice.uniform(*THINKS_S)
        if self._uses_foot and self._dice.random() < 0.1:
            self._step()
        elif self._view is not None and self._stage.mouth is not None:
            for act in self._wanted(self._view):
                self._ask(act)

    def lift(self) -> None:
        """Take the foot off."""
        self._stage.press("u")
        self._down = False

    def _wanted(self, view: View) -> Iterator[Act]:
        waiting = {str(asked.act) for asked in self._open()}
        for errand in self._errands:
            act = errand.next(view, self._dice)
            if act is not None and str(act) not in waiting:
                yield act

    def _open(self) -> list[Asked]:
        since_s = now_s() - PATIENCE_S
        return [a for a in self._stage.evidence.asked[-20:] if a.answered_s is None and a.at_s > since_s]

    def _ask(self, act: Act) -> None:
        self._tickets += 1
        asked = Asked(now_s(), self._tickets, act)
        if self._stage.mouth is not None and self._stage.mouth.say(
            {"message": "do", "ticket": self._tickets, "act": act}
        ):
            self._stage.evidence.asked.append(asked)

    def _step(self) -> None:
        self._down = not self._down
        self._stage.press("d" if self._down else "u")

    def _hear(self, message: dict[str, Any]) -> None:
        if message["message"] == "seen":
            self._view = message["bench"]
            return
        ticket = message.get("ticket")
        for asked in reversed(self._stage.evidence.asked):
            if asked.ticket == ticket and asked.answered_s is None:
                asked.answered_s = now_s()
                asked.done = message["message"] == "done"
                asked.words = message.get("what", "")
                return
