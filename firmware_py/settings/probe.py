"""``[probe.NAME]``: a thermometer, however it is connected."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.settings.section import (
    Baud,
    DevicePath,
    PathName,
    Place,
    Section,
    check_belongs,
    check_within,
)
from firmware_py.strict_toml import Kelvins, Seconds

SERIAL = ("serial-lines", "serial-query")
Scale = Literal["degC", "degF", "K"]
# What an instrument is asked, and what a pattern may hold: printable ASCII, and one line of it.
Words = Annotated[str, msgspec.Meta(pattern=r"^[ -~]{1,80}\Z")]


class ProbeSection(Section, frozen=True, kw_only=True):
    """``[probe.NAME]``: one thermometer and where it lies; several may lie in one place.

    Keys:
        body: `one-wire` is a sensor on the kernel's 1-Wire bus; `serial-lines` an instrument that tells its
            temperature by itself, line by line; `serial-query` one that is asked; `by-hand` a thermometer
            that a person reads.
        place: the tray, the jacket, the room, or the bath it lies in.
        serial: the sensor's own number, as printed by the kernel; only with `one-wire`.
        folder: where the kernel shows its 1-Wire sensors.
        port: the serial port; only with a serial body.
        baud: the speed of the serial port.
        unit: the scale of the number that the instrument tells.
        pattern: what stands around the number, which is written `{}`.
        query: what a `serial-query` instrument is asked.
        instrument: words that its answer to `*IDN?` must hold.
        answers_within: an answer later than this is none.
        tolerance: how far its reading may be wrong; every time on the screen shows what comes of it.
        offset: what is added to its reading; better calibrate it on the Baths page.
    """

    body: Literal["one-wire", "by-hand", "serial-lines", "serial-query"] = "one-wire"
    place: Place = "tray 1"
    serial: Annotated[str, msgspec.Meta(pattern=r"^[0-9a-f]{2}-[0-9a-f]{12}\Z")] | None = None
    folder: PathName = "/sys/bus/w1/devices"
    port: DevicePath | None = None
    baud: Baud = 9600
    unit: Scale = "degC"
    pattern: Words = "{}"
    query: Words = "MEAS:TEMP?"
    instrument: Words | None = None
    answers_within: Seconds = Seconds(2.0)
    tolerance: Kelvins = Kelvins(0.5)
    offset: Kelvins = Kelvins(0.0)

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.body == "one-wire") != (self.serial is not None):
            raise ValueError("a `one-wire` probe, and no other, has a `serial`, such as '28-0123456789ab'")
        if (self.body in SERIAL) != (self.port is not None):
            raise ValueError("a probe on a serial line, and no other, has a `port`, such as '/dev/ttyUSB0'")
        check_belongs(self, self.body, SERIAL, ("baud", "unit", "pattern", "answers_within"))
        check_belongs(self, self.body, ("serial-query",), ("query", "instrument"))
        if self.pattern.count("{}") != 1:
            raise ValueError("`pattern` is the text around the number, which is written {} and stands once")
        # A probe that is silent for five seconds is given up: it must have answered by then.
        check_within("answers_within", self.answers_within, 0.02, 4.0, "s")
        check_within("tolerance", self.tolerance, 0.01, 5.0, "K")
        check_within("offset", self.offset, -5.0, 5.0, "K")

    @property
    def wire(self) -> str | None:
        """Get what this probe is known by on its bus, None for one that a person reads."""
        return self.serial or self.port
