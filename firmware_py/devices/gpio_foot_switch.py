"""A foot switch between a line of the board and ground."""

from __future__ import annotations

import contextlib
import math
import threading
from collections.abc import Callable

from gpiozero import InputDevice
from gpiozero.exc import GPIOZeroError

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock, boot_from_monotonic_s
from firmware_py.devices.debounce import SETTLE_S, Debounce
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.devices.pins import Pins
from firmware_py.devices.threads import begin


class GpioFootSwitch:
    """A momentary switch that pulls its line to ground; the board's own pull-up holds it up.

    Raw edges come with the moment at which the kernel saw them (lgpio) or the library noticed them
    (RPi.GPIO, mock pins); a late callback does not make a late press. The libraries' own debouncing is
    left off: one of them can miss a release, the other dates a press late by the bounce, mock pins have none.
    """

    def __init__(self, name: str, pin: int, pins: Pins, clock: Clock, *, settle_s: float = SETTLE_S) -> None:
        self.name = name
        self._clock = clock
        self._settle_s = settle_s
        self._turn = threading.Condition()
        self._heard: Callable[[FootEdge], None] | None = None
        self._closed = False
        self._raw: list[tuple[bool, float]] = []
        self._watch: threading.Thread | None = None
        try:
            self._line = InputDevice(pin, pull_up=True, pin_factory=pins.factory)
        except GPIOZeroError as error:
            raise Refused(f"pin {pin} for foot switch {name!r}: {error}", allowed="a free line") from error
        self._debounce = Debounce(down=bool(self._line.is_active), settle_s=settle_s)

    @property
    def is_down(self) -> bool:
        """Get whether the foot is on the switch."""
        return self._debounce.is_down

    @property
    def is_there(self) -> bool:
        """Get whether the switch is connected, as far as that can be known."""
        return True  # a line without a switch looks like a foot that is up

    def listen(self, heard: Callable[[FootEdge], None]) -> None:
        """Call ``heard`` with every debounced edge, from a thread of the switch's own."""
        self._heard = heard
        self._debounce = Debounce(down=bool(self._line.is_active), settle_s=self._settle_s)
        self._watch = threading.Thread(
            target=self._watch_for_ever, name=f"foot switch {self.name}", daemon=True
        )
        begin(self._watch)
        self._line.pin.bounce = None
        self._line.pin.edges = "both"
        self._line.pin.when_changed = self._edge

    def close(self) -> None:
        """Stop listening and give the line back."""
        with self._turn:
            self._closed = True
            self._turn.notify()
        if self._watch is not None and self._watch is not threading.current_thread():
            self._watch.join()
        if not self._line.closed:
            # lgpio now and then finds the line still held by its own thread, seen on an emulated board; the
            # line goes with the process in any case.
            with contextlib.suppress(Exception):
                self._line.pin.when_changed = None
            with contextlib.suppress(Exception):
                self._line.close()

    def _edge(self, ticks_s: float, state: int) -> None:
        """Take in a raw edge; ``ticks_s`` is on CLOCK_MONOTONIC, a low line (0) is a foot."""
        with self._turn:
            self._raw.append((not state, boot_from_monotonic_s(ticks_s)))
            self._turn.notify()

    def _watch_for_ever(self) -> None:
        """Debounce and tell, all in one thread, so that no two edges can change places."""
        while True:
            with self._turn:
                left_s = self._debounce.next_due_s() - self._clock.now_s()
                if not self._closed and not self._raw and left_s > 0:
                    self._turn.wait(None if math.isinf(left_s) else left_s)
                if self._closed:
                    return
                raw, self._raw = self._raw, []
            for down, at_s in raw:
                self._tell(self._debounce.raw(down=down, at_s=at_s))
            self._tell(self._debounce.settle(self._clock.now_s()))

    def _tell(self, step: FootEdge | None) -> None:
        if step is not None and self._heard is not None:
            self._heard(step)
