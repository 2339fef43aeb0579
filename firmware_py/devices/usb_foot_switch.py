"""A foot switch on USB, which the kernel takes for a keyboard: taken for us alone, it types nothing."""

from __future__ import annotations

import contextlib
import fcntl
import importlib
import math
import os
import select
import struct
import threading
from collections.abc import Callable, Iterable
from types import ModuleType
from typing import Protocol

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import Clock
from firmware_py.devices.debounce import SETTLE_S, Debounce
from firmware_py.devices.foot_switch import FootEdge
from firmware_py.devices.threads import begin

LOOK_AGAIN_S = 1.0
# <linux/input.h>, <linux/input-event-codes.h>, <linux/time.h>
_EVIOCSCLOCKID = 0x400445A0
_CLOCK_BOOTTIME = 7
_EV_SYN, _EV_KEY = 0, 1
_SYN_DROPPED = 3


class KeyEvent(Protocol):
    """An event as the kernel gives it: of a kind, of a key, 1 for down, 0 for up, 2 for a repeat."""

    type: int
    code: int
    value: int

    def timestamp(self) -> float:
        """Return its moment [s] on the clock that was asked for."""
        ...


class KeyDevice(Protocol):
    """What is used of `evdev.InputDevice`."""

    def fileno(self) -> int:
        """Return the descriptor that becomes readable with an event."""
        ...

    def grab(self) -> None:
        """Take the device for this process alone."""
        ...

    def read(self) -> Iterable[KeyEvent]:
        """Return the events that have come; raises OSError when the device is gone."""
        ...

    def active_keys(self) -> list[int]:
        """Return the keys that are down."""
        ...

    def close(self) -> None:
        """Give the device back."""
        ...


class UsbFootSwitch:
    """A pedal at ``path``, such as ``/dev/input/by-id/…-event-kbd``; ``key`` names the one key that counts.

    Unplugged under a foot, it tells a release that counts for nothing; plugged in again, it is found again.
    """

    def __init__(
        self,
        name: str,
        path: str,
        clock: Clock,
        *,
        key: str | None = None,
        settle_s: float = SETTLE_S,
        open_device: Callable[[str], KeyDevice] | None = None,
    ) -> None:
        self.name = name
        self._path = path
        self._clock = clock
        self._settle_s = settle_s
        self._open_device = open_device or _open_evdev
        self._key = None if key is None else _key_code(key)
        self._heard: Callable[[FootEdge], None] | None = None
        self._watch: threading.Thread | None = None
        self._end, self._ended = os.pipe()
        self._has_kernel_time = False
        try:
            self._device: KeyDevice | None = self._open()
        except BaseException:
            os.close(self._end)
            os.close(self._ended)
            raise
        self._debounce = self._new_debounce(self._device)

    @property
    def is_down(self) -> bool:
        """Get whether the foot is on the switch."""
        return self._debounce.is_down

    @property
    def is_there(self) -> bool:
        """Get whether the pedal is plugged in."""
        return self._device is not None

    def listen(self, heard: Callable[[FootEdge], None]) -> None:
        """Call ``heard`` with every debounced edge, from a thread of the switch's own."""
        self._heard = heard
        if self._device is not None:
            self._debounce = self._new_debounce(self._device)
        self._watch = threading.Thread(
            target=self._watch_for_ever, name=f"foot switch {self.name}", daemon=True
        )
        begin(self._watch)

    def close(self) -> None:
        """Stop listening and give the device back."""
        if self._ended < 0:
            return
        os.write(self._ended, b".")
        if self._watch is not None and self._watch is not threading.current_thread():
            self._watch.join()
        self._let_go()
        os.close(self._end)
        os.close(self._ended)
        self._end = self._ended = -1

    # --- the device ---

    def _open(self) -> KeyDevice:
        try:
            device = self._open_device(self._path)
        except OSError as error:
            why = f"{self._path} for foot switch {self.name!r} ({error.strerror or error})"
            raise Refused(why, allowed="a pedal that is plugged in, and the right to read it") from None
        try:
            device.grab()
        except OSError as error:
            device.close()
            why = f"{self._path} for foot switch {self.name!r}: another program has it ({error.strerror})"
            raise Refused(why, allowed="a pedal of its own") from None
        self._has_kernel_time = _takes_boot_time(device)
        return device

    def _new_debounce(self, device: KeyDevice) -> Debounce:
        return Debounce(down=self._is_pressed(device), settle_s=self._settle_s)

    def _is_pressed(self, device: KeyDevice) -> bool:
        keys = device.active_keys()
        return bool(keys) if self._key is None else self._key in keys

    def _let_go(self) -> None:
        device, self._device = self._device, None
        if device is not None:
            with contextlib.suppress(OSError):
                device.close()

    # --- its thread ---

    def _watch_for_ever(self) -> None:
        while not self._is_over():
            try:
                if self._device is None:
                    self._device = self._open()
                    self._debounce = self._new_debounce(self._device)
                elif self._is_readable(self._device):
                    self._take_events(self._device)
            except (OSError, Refused):
                self._lose()
            self._tell(self._debounce.settle(self._clock.now_s()))

    def _is_over(self) -> bool:
        """Wait for something to do; return whether that is to end."""
        device = self._device
        if device is None:
            return bool(select.select([self._end], [], [], LOOK_AGAIN_S)[0])
        left_s = self._debounce.next_due_s() - self._clock.now_s()
        wait_s = None if math.isinf(left_s) else max(0.0, left_s)
        return self._end in select.select([self._end, device.fileno()], [], [], wait_s)[0]

    @staticmethod
    def _is_readable(device: KeyDevice) -> bool:
        return bool(select.select([device.fileno()], [], [], 0)[0])

    def _take_events(self, device: KeyDevice) -> None:
        for event in device.read():
            if event.type == _EV_SYN and event.code == _SYN_DROPPED:
                # The kernel's queue ran over: what the keys are now is all that is known.
                self._tell(self._debounce.raw(down=self._is_pressed(device), at_s=self._clock.now_s()))
            elif event.type == _EV_KEY and event.value in {0, 1} and self._key in {None, event.code}:
                at_s = event.timestamp() if self._has_kernel_time else self._clock.now_s()
                self._tell(self._debounce.raw(down=event.value == 1, at_s=at_s))

    def _lose(self) -> None:
        """Take leave of a pedal that is gone; a foot that was on it is on nothing now."""
        self._let_go()
        was_down = self._debounce.is_down and self._debounce.is_heard
        self._debounce = Debounce(down=False, settle_s=self._settle_s)
        if was_down:
            self._tell(FootEdge(down=False, at_s=self._clock.now_s(), lost=True))

    def _tell(self, step: FootEdge | None) -> None:
        if step is not None and self._heard is not None:
            self._heard(step)


def _open_evdev(path: str) -> KeyDevice:
    evdev = _load()
    device: KeyDevice = evdev.InputDevice(path)
    return device


def _key_code(name: str) -> int:
    code = _load().ecodes.ecodes.get(name)
    if not isinstance(code, int):
        raise Refused(f"no key {name}", where="foot switch", allowed="a name as the kernel has it: KEY_B")
    return code


def _load() -> ModuleType:
    try:
        return importlib.import_module("evdev")
    except ImportError:
        how = "the system's package python3-evdev"
        raise Refused("the library evdev is not installed", where="foot switch", allowed=how) from None


def _takes_boot_time(device: KeyDevice) -> bool:
    """Return whether the kernel stamps the device's events on the boot clock from now on."""
    try:
        fcntl.ioctl(device.fileno(), _EVIOCSCLOCKID, struct.pack("i", _CLOCK_BOOTTIME))
    except OSError:
        return False
    return True
