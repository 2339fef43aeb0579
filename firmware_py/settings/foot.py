"""``[foot-switch]``: the pedal."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.settings.section import BcmPin, DevicePath, Section, check_belongs, check_within
from firmware_py.strict_toml import Seconds


class FootSection(Section, frozen=True, kw_only=True):
    """``[foot-switch]``: the pedal, its debounce, and what parts a long press from a short one.

    A ``usb`` pedal is a ``device`` that the kernel takes for a keyboard; ``key`` is the one key of it that
    counts (any, where none is named). It is taken for Embertray alone, so that it types nothing elsewhere.
    """

    body: Literal["gpio", "usb", "none"] = "none"
    pin: BcmPin | None = None
    device: DevicePath | None = None
    key: Annotated[str, msgspec.Meta(pattern=r"^(KEY|BTN)_[A-Z0-9_]{1,30}\Z")] | None = None
    debounce: Seconds = Seconds(0.02)
    long_press: Seconds = Seconds(0.8)

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        if (self.body == "gpio") != (self.pin is not None):
            raise ValueError("a `gpio` foot switch, and no other, has a `pin`")
        if (self.body == "usb") != (self.device is not None):
            raise ValueError("a `usb` foot switch, and no other, has a `device`, as in /dev/input/by-id")
        check_belongs(self, self.body, ("usb",), ("key",))
        check_within("debounce", self.debounce, 0.001, 0.5, "s")
        check_within("long_press", self.long_press, 0.2, 5.0, "s")
