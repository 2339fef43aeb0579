"""What an instrument's line of text says: a number in its pattern, or why there is none."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from types import MappingProxyType
from typing import Literal

from firmware_py.craft.refusal import Refused, shown

Scale = Literal["degC", "degF", "K"]
LINE_LIMIT = 200

# Plain or with exponent: the forms NR1, NR2 and NR3 of IEEE 488.2, and a decimal comma.
_NUMBER = r"([-+]?(?:\d{1,12}(?:\.\d{0,12}|,\d{1,12})?|[.,]\d{1,12})(?:[eE][-+]?\d{1,3})?)"
# Nothing that could be the rest of a longer number, a date or a time of day may stand beside it.
_FRAMED = rf"(?<![\w.,+-])(?<!\d[:/]){_NUMBER}(?![\d.,xX]|[-+:/]\d|[eE][-+\d])"
# What an instrument sends for "over range", "under range" and "not a number" (SCPI-1999, section 7.2.1;
# from memory).
_NO_NUMBER = 9.9e37

TO_degC: Mapping[Scale, Callable[[float], float]] = MappingProxyType(
    {
        "degC": lambda number: number,
        "degF": lambda number: (number - 32.0) / 1.8,
        "K": lambda number: number - 273.15,
    }
)


class NumberPattern:
    """The text around a number, which is written ``{}``: ``"T1={} C"``.

    The text may stand anywhere on the line; a blank in it is any number of blanks. ``{}`` alone wants a line
    that holds one number and no other. It is not a regular expression, so that no pattern can take for ever.
    """

    def __init__(self, pattern: str) -> None:
        before, _, after = pattern.partition("{}")
        self.pattern = pattern
        self._is_bare = not (before.strip() or after.strip())
        number = _NUMBER if before.strip() else _FRAMED
        self._regex = re.compile(_literal(before) + number + _literal(after))

    def read(self, line: bytes) -> float:
        """Return the number on the line; raises Refused where there is none, or it is not plain which."""
        text = plain_text(line)
        found = self._regex.findall(text)
        if not found:
            raise Refused(f"no number as in {self.pattern!r} in the line {shown(text)}")
        if len(found) > 1 and self._is_bare:
            raise Refused(f"more than one number in the line {shown(text)}", allowed="a `pattern` that parts")
        number = float(found[0].replace(",", "."))
        if abs(number) >= _NO_NUMBER:
            raise Refused("the instrument says that it has no value: usually the sensor or its plug")
        return number


def plain_text(line: bytes) -> str:
    """Return a line as text; raises Refused where it can not be one that an instrument meant."""
    if len(line) > LINE_LIMIT:
        raise Refused(f"a line of more than {LINE_LIMIT} signs: usually a wrong baud rate")
    # The degree sign as instruments send it, in Latin-1, UTF-8 and some displays' own code.
    tidy = line.replace(b"\xc2\xb0", b" ").replace(b"\xb0", b" ").replace(b"\xdf", b" ").strip()
    if not tidy.isascii() or any(sign < 0x20 and sign != 0x09 for sign in tidy) or b"\x7f" in tidy:
        raise Refused("signs that are no text: usually a wrong baud rate")
    return tidy.decode("ascii")


def _literal(text: str) -> str:
    """Return the regular expression of a plain text, blanks of any length where there are some."""
    parts = [re.escape(part) for part in text.split()]
    lead = r"\s*" if text[:1].isspace() else ""
    trail = r"\s*" if text[-1:].isspace() and parts else ""
    return lead + r"\s+".join(parts) + trail
