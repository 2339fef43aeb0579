"""A beeper on a line of the board: a piezo that is given its tone, or a buzzer with a tone of its own."""

from __future__ import annotations

import threading
from collections.abc import Callable

from gpiozero import Buzzer, TonalBuzzer
from gpiozero.exc import GPIOZeroError
from gpiozero.tones import Tone

from firmware_py.craft.refusal import Refused
from firmware_py.devices.pins import Pins
from firmware_py.devices.threads import begin
from firmware_py.facts.tunes import PATTERNS, URGENCY, Beep, Tune


class GpioSounder:
    """A beeper played by a thread of its own, so that `play` never waits.

    ``tonal`` is a passive piezo, which is driven at the pattern's pitch; otherwise a buzzer that sounds by
    itself, for which rhythm alone tells the patterns apart.
    """

    def __init__(self, name: str, pin: int, pins: Pins, *, tonal: bool = True) -> None:
        self.name = name
        self._turn = threading.Condition()
        self._next: Tune | None = None
        self._sounding: Tune | None = None
        self._after: Tune | None = None
        self._closed = False
        try:
            self._sound, self._hush, self._give_back = _open(pin, pins, tonal=tonal)
        except GPIOZeroError as error:
            raise Refused(f"pin {pin} for sounder {name!r}: {error}", allowed="a free line") from error
        self._player = threading.Thread(target=self._play_for_ever, name=f"sounder {name}", daemon=True)
        begin(self._player)

    def play(self, tune: Tune) -> None:
        """Start the pattern called ``tune``, cutting off the one that sounds, or after one more urgent."""
        with self._turn:
            before = self._next or self._sounding
            if before is not None and URGENCY[tune] < URGENCY[before]:
                self._after = max(self._after or tune, tune, key=lambda one: URGENCY[one])
                return
            self._next, self._after = tune, None
            self._turn.notify()

    def close(self) -> None:
        """Fall silent and give the line back."""
        with self._turn:
            if self._closed:
                return
            self._closed = True
            self._turn.notify()
        self._player.join()
        self._give_back()

    def _play_for_ever(self) -> None:
        while True:
            with self._turn:
                self._turn.wait_for(lambda: self._closed or self._next is not None)
                if self._closed:
                    return
                tune, self._next = self._next or "heard", None
                self._sounding = tune
            self._play(PATTERNS[tune])
            with self._turn:
                self._sounding = None
                if self._next is None:
                    self._next, self._after = self._after, None

    def _play(self, pattern: tuple[Beep, ...]) -> None:
        for beep in pattern:
            self._sound(beep.hertz)
            cut = self._rest(beep.on_s)
            self._hush()
            if cut or self._rest(beep.rest_s):
                return

    def _rest(self, seconds: float) -> bool:
        """Wait; return whether something else is wanted meanwhile."""
        with self._turn:
            return self._turn.wait_for(lambda: self._closed or self._next is not None, seconds)


def _open(
    pin: int, pins: Pins, *, tonal: bool
) -> tuple[Callable[[float], None], Callable[[], None], Callable[[], None]]:
    if not tonal:
        buzzer = Buzzer(pin, pin_factory=pins.factory)
        return lambda _hertz: buzzer.on(), buzzer.off, buzzer.close
    # Two octaves about A4: 110 to 1760 Hz, wider than the patterns.
    piezo = TonalBuzzer(pin, octaves=2, pin_factory=pins.factory)
    return lambda hertz: piezo.play(Tone.from_frequency(hertz)), piezo.stop, piezo.close
