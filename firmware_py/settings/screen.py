"""``[screen]``: how bright the red screen may be, and when it goes black by itself."""

from __future__ import annotations

from datetime import date
from typing import Annotated, Literal

import msgspec

from firmware_py.settings.section import Section, check_within
from firmware_py.strict_toml import Seconds

# Until its user has tested it with a plate. Own choice.
UNTESTED_RED = 200


class ScreenSection(Section, frozen=True, kw_only=True):
    """``[screen]``: the red screen and the panel behind it.

    Keys:
        brightest: the brightest red, of 255, that your own test of the screen with a plate allows; all nine
            brightnesses are shares of it.
        tested: the day of that test.
        blank_after: so long without a key and without a sound, and the screen goes black; any key wakes it
            and does nothing else.
        blank: `idle bench` leaves it lit while a plate is in a bath, a print under the lamp or a fault
            stands; `always` does not.
        backlight: the panel's folder in sysfs, as in /sys/class/backlight.
        backlight_most: the share of the panel's most that brightness 9 has.
    """

    brightest: Annotated[int, msgspec.Meta(ge=1, le=255)] = UNTESTED_RED
    tested: Annotated[str, msgspec.Meta(pattern=r"^\d{4}-\d{2}-\d{2}\Z")] | None = None
    blank_after: Seconds | None = None
    blank: Literal["idle bench", "always"] = "idle bench"
    backlight: Annotated[str, msgspec.Meta(pattern=r"^/[^\x00-\x1f]{1,250}\Z")] | None = None
    backlight_most: float = 0.5

    def __post_init__(self) -> None:
        """Refuse what cannot be meant."""
        check_within("backlight_most", self.backlight_most, 0.01, 1.0, "")
        if self.blank_after is not None:
            check_within("blank_after", self.blank_after, 10.0, 86400.0, "s")
        if self.tested is not None:
            try:
                date.fromisoformat(self.tested)
            except ValueError:
                raise ValueError("`tested` is the day of your test, such as '2031-05-04'") from None
