"""``[foot-switch]``: the pedal."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.settings.section import BcmPin, DevicePath, Section, check_belongs, check_within
from firmware_py.strict_toml import Seconds


class FootSection(Section, frozen=True, kw_only=True):
    """``[foot-switch]``: the pedal, its debounce, and what parts a long press from a short one.

    A `usb` pedal is taken for Embertray alone, so that it types nothing elsewhere.

    Keys:
        body: `gpio` is a switch on a pin, `usb` a pedal that the kernel takes for a keyboard.
        pin: the BCM number of its pin; only with `gpio`.
        device: the pedal's device file, such as one in `/dev/input/by-id`; only with `usb`.
        key: the one key of a `usb` pedal that counts; any, where none is named.
        debounce: how long a level must hold to be believed.
        long_press: from so long on, a press is a long one.
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
