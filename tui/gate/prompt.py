"""What the gate says when nothing runs behind it, and the few keys it then understands."""

from __future__ import annotations

import re
import signal
from typing import Literal

RELEASE_WORD = "daylight"
Answer = Literal["again", "word"]
BlindAnswer = Literal["again", "light"]
# What lights the gate's own words in the dark, where no screen can be opened that knows its key of light.
LIGHT_WORD = "light"

AGAIN = "The bench goes on without it. Space or Enter: open it again."
GO_ON = "Space or Enter: let it go on."
RELEASE = f"To give this terminal its own colours back: type {RELEASE_WORD}, then Enter."

# Arrows and the like, or a terminal's answer to what the dead program asked.
NOT_TYPED = re.compile(r"\x1b(?:\[[0-?]*[ -/]*[@-~]|[\]P_^X][^\x1b\x07]*(?:\x1b\\|\x07)?|.)?")


def how_it_ended(status: int) -> str:
    """Return one line about the end of the screen, by its exit status."""
    if status == 0:
        return "The screen was left."
    if status > 128:
        return f"The screen was ended by {_signal_name(status - 128)}."
    return f"The screen ended with a fault (exit status {status})."


def how_it_stopped(number: int) -> str:
    """Return one line about a screen that was stopped and not ended."""
    return f"The screen was stopped by {_signal_name(number)}."


def _signal_name(number: int) -> str:
    try:
        return f"signal {number} ({signal.Signals(number).name})"
    except ValueError:
        return f"signal {number}"


class Prompt:
    """Reads one line: nothing but Space or Enter means again, the word means give back."""

    def __init__(self) -> None:
        self.typed = ""
        self._was_another = False

    @property
    def shown(self) -> str:
        """Get what stands after the prompt: what is typed, or that the last word was another one."""
        return self.typed or ("That was another word. " if self._was_another else "")

    def feed(self, keys: bytes) -> Answer | None:
        """Take keys as they come; return an answer when there is one."""
        for key in NOT_TYPED.sub("", keys.decode("utf-8", "ignore")):
            if (answer := self._key(key)) is not None:
                return answer
        return None

    def _key(self, key: str) -> Answer | None:
        if key in "\r\n" or (key == " " and not self.typed):
            typed, self.typed = self.typed.strip().lower(), ""
            if not typed:
                return "again"
            self._was_another = typed != RELEASE_WORD
            return None if self._was_another else "word"
        if key in "\x7f\b":
            self.typed = self.typed[:-1]
        elif key.isprintable():
            self.typed = (self.typed + key)[:20]
        return None


class BlindPrompt:
    """Reads keys that nobody sees: Space or Enter means again; a word, and no key held down, gives light."""

    def __init__(self) -> None:
        self._typed = ""

    def feed(self, keys: bytes) -> BlindAnswer | None:
        """Take keys as they come; return an answer when there is one."""
        for key in NOT_TYPED.sub("", keys.decode("utf-8", "ignore")):
            self._typed = (self._typed + key.lower())[-len(LIGHT_WORD) :]
            if key in " \r\n":
                return "again"
            if self._typed == LIGHT_WORD:
                return "light"
        return None
