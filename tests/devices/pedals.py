"""A pedal as evdev shows it, made by the kernel's uinput where there is one, else out of a pipe."""

import errno
import os
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from firmware_py.devices.clock import BootClock

UINPUT = Path("/dev/uinput")
KEY, OTHER_KEY = 48, 30  # KEY_B, KEY_A in <linux/input-event-codes.h>


@dataclass
class Event:
    code: int
    value: int
    at_s: float
    type: int = 1

    def timestamp(self):
        return self.at_s


class FakePedal:
    """An evdev device whose events come through a pipe; `unplug` makes it answer as a device that is gone."""

    def __init__(self):
        self.is_plugged_in = True
        self.has_another_owner = False
        self.opened: FakeDevice | None = None
        self.down: set[int] = set()

    def open(self, path):
        if not self.is_plugged_in:
            raise FileNotFoundError(errno.ENOENT, os.strerror(errno.ENOENT), path)
        self.opened = FakeDevice(self)
        return self.opened

    def press(self, *, down, code=KEY, repeats=0):
        (self.down.add if down else self.down.discard)(code)
        if self.opened is not None:
            self.opened.tell(
                *[Event(code, value, BootClock().now_s()) for value in (int(down), *[2] * repeats)]
            )

    def run_over(self):
        assert self.opened is not None
        self.opened.tell(Event(3, 0, 0.0, type=0))

    def unplug(self):
        self.is_plugged_in = False
        self.down.clear()
        if self.opened is not None:
            self.opened.tell()

    def plug_in(self):
        self.is_plugged_in = True

    def close(self):
        pass


class FakeDevice:
    def __init__(self, pedal):
        self.pedal = pedal
        self.events: list[Event] = []
        self.is_grabbed = False
        self.read_end, self.write_end = os.pipe()

    def tell(self, *events):
        self.events += events
        os.write(self.write_end, b".")

    def fileno(self):
        return self.read_end

    def grab(self):
        if self.pedal.has_another_owner:
            raise OSError(errno.EBUSY, os.strerror(errno.EBUSY))
        self.is_grabbed = True

    def read(self):
        os.read(self.read_end, 4096)
        if not self.pedal.is_plugged_in:
            raise OSError(errno.ENODEV, os.strerror(errno.ENODEV))
        events, self.events = self.events, []
        return events

    def active_keys(self):
        return sorted(self.pedal.down)

    def close(self):
        if self.read_end >= 0:
            os.close(self.read_end)
            os.close(self.write_end)
            self.read_end = -1
            self.pedal.opened = None


class KernelPedal:
    """The same by the kernel's uinput: a real input device, opened by the real library."""

    def __init__(self):
        import evdev

        self._keys: dict[int, Sequence[int]] = {evdev.ecodes.EV_KEY: [KEY, OTHER_KEY]}
        self._name = f"pedal of test {os.getpid()}"
        self.plug_in()

    @property
    def path(self):
        return self._device.device.path

    def open(self, path):
        import evdev

        return evdev.InputDevice(self.path)

    def press(self, *, down, code=KEY, repeats=0):
        for value in (int(down), *[2] * repeats):
            self._device.write(1, code, value)
            self._device.syn()

    def unplug(self):
        self._device.close()

    def plug_in(self):
        import evdev

        self._device = evdev.UInput(self._keys, name=self._name)

    def close(self):
        self._device.close()
