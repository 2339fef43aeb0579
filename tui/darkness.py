"""When the screen is black: while a plate lies open that bears no light, or a person wants it so."""

from __future__ import annotations

from firmware_py.facts.acts.bath import DescribePlate
from firmware_py.facts.acts.run import AnyAct, OpenRun
from firmware_py.facts.views.bench import BenchView
from tui.pages.shared.time_words import left_words

# So often, within so long, a key must be pressed to light a black screen: a hand that gropes lights nothing.
PRESSES, PRESSES_WITHIN_S = 3, 3.0
# A key that is held down repeats itself quicker than any hand presses it: that counts for nothing.
QUICKEST_PRESS_S = 0.1
# While a plate bears no light, a screen that was lit on purpose is black again after this.
LIT_FOR_S = 15.0
# On the simulated bench no plate is spoilt: what nobody was told of beforehand is told first.
TOLD_FOR_S = 6.0
# What keys may do while nobody sees what they do: nothing that asks, nothing that turns the foot away.
DEEDS_IN_THE_DARK = frozenset(
    {
        "proceed",
        "foot",
        "foot_held",
        "mark",
        "pull",
        "take_back",
        "take_back_pull",
        "urgent_tray",
        "next_tray",
        "previous_tray",
        "light",
        "safelight",
    }
)


def darkens(act: AnyAct, view: BenchView | None) -> bool:
    """Return whether an act brings a plate onto the bench that bears no light, where there was none."""
    if view is None or view.light_allowed == "dark":
        return False
    match act:
        case OpenRun():
            return act.dark or act.sensitivity == "panchromatic" or act.routine in view.in_the_dark
        case DescribePlate():
            return act.sensitivity == "panchromatic"
        case _:
            return False


class Darkness:
    """Knows whether the screen is black at a moment of its own clock [s]; it may begin so."""

    def __init__(self, *, begins: bool = False) -> None:
        self._bench = begins
        self._by_hand = False
        self._agreed = begins
        self._told_until_s = 0.0
        self._lit_until_s = 0.0
        self._presses: list[float] = []
        self._pressed_s = -PRESSES_WITHIN_S

    def see(self, view: BenchView, now_s: float) -> None:
        """Take in what light the bench allows; who was not asked is told first, where no plate is real."""
        dark = view.light_allowed == "dark"
        if dark and not self._bench:
            self._told_until_s = now_s + TOLD_FOR_S if view.rehearsal and not self._agreed else 0.0
            self._lit_until_s = 0.0
        if self._bench and not dark:
            self._agreed = False
        self._bench = dark

    def agree(self) -> None:
        """Take in that the person knows that the screen will be black, and how to leave it."""
        self._agreed = True

    def by_hand(self) -> None:
        """Be black because the person wants it."""
        self._by_hand, self._lit_until_s = True, 0.0

    def is_black(self, now_s: float) -> bool:
        """Return whether no cell may be lit now."""
        return self._by_hand or (self._bench and now_s >= max(self._lit_until_s, self._told_until_s))

    def press(self, now_s: float) -> bool:
        """Take in one press of the key of light while black; return whether that was the last one needed."""
        repeats, self._pressed_s = now_s - self._pressed_s < QUICKEST_PRESS_S, now_s
        if repeats:
            return False
        self._presses = [at_s for at_s in self._presses if now_s - at_s < PRESSES_WITHIN_S] + [now_s]
        if len(self._presses) < PRESSES:
            return False
        self._presses.clear()
        self._by_hand = False
        self._lit_until_s = now_s + LIT_FOR_S
        return True

    def black_again(self) -> bool:
        """End what light there is while a plate bears none; return whether there was any."""
        was_lit, self._lit_until_s, self._told_until_s = self._bench, 0.0, 0.0
        return was_lit

    def is_dim(self, now_s: float) -> bool:
        """Return whether the screen is lit although a plate bears no light: then as dim as it can be."""
        return self._bench and not self.is_black(now_s)

    def words(self, now_s: float) -> str:
        """Return what the banner says of light that is about to end; nothing where none is."""
        if not self.is_dim(now_s):
            return ""
        left = left_words(max(self._lit_until_s, self._told_until_s) - now_s)
        return f"BLACK in {left}: TOTAL DARKNESS. L: now. L three times: lit for {LIT_FOR_S:.0f} s"
