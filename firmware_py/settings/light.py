"""``[light-sensor]``: a sensor beside the paper, by which long exposures end."""

from __future__ import annotations

from typing import Literal

from firmware_py.settings.probe import Words
from firmware_py.settings.section import Baud, DevicePath, Section, check_belongs, check_within
from firmware_py.strict_toml import Seconds


class LightSensorSection(Section, frozen=True, kw_only=True):
    """``[light-sensor]``: a sensor on a serial line, that tells its number by itself.

    Keys:
        body: how it is connected; with `none` exposures end by time.
        port: its serial port; only with a serial body.
        baud: the speed of the serial port.
        pattern: what stands around the number, which is written `{}`.
        answers_within: an answer later than this is none.
        full: what it shows in the light that exposure times are told for.
        dark: what it shows without the lamp.
        exposures_from: exposures of so long or longer end by dose.
        ceiling: the lamp goes off in any case after so many times the time it should need.
    """

    body: Literal["serial-lines", "none"] = "none"
    port: DevicePath | None = None
    baud: Baud = 9600
    pattern: Words = "{}"
    answers_within: Seconds = Seconds(2.0)
    full: float | None = None
    dark: float = 0.0
    exposures_from: Seconds = Seconds(20.0)
    ceiling: float = 1.5

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.body == "none") != (self.port is None):
            raise ValueError("a light sensor on a serial line, and no other, has a `port`")
        own = ("baud", "pattern", "answers_within", "full", "dark", "exposures_from", "ceiling")
        check_belongs(self, self.body, ("serial-lines",), own)
        if self.body != "none" and (self.full is None or not 1e-9 < abs(self.full - self.dark) < 1e12):
            raise ValueError("`full` is what the sensor shows in full light, and differs from `dark`")
        if self.pattern.count("{}") != 1:
            raise ValueError("`pattern` is the text around the number, which is written {} and stands once")
        check_within("answers_within", self.answers_within, 0.02, 4.0, "s")
        check_within("exposures_from", self.exposures_from, 5.0, 3600.0, "s")
        check_within("ceiling", self.ceiling, 1.05, 4.0, "times")
