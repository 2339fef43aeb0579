"""Which characters may be drawn: some bring their own colours, some turn the line about."""

from __future__ import annotations

import re
from unicodedata import east_asian_width

STAND_IN = "·"

# Characters that fonts draw as coloured pictures, whatever colour was asked for: all that the Unicode
# emoji tables name, wider blocks where that is simpler, and the private areas, where fonts put anything.
PICTURES = (
    "\u00a9\u00ae\u203c\u2049\u2122\u2139\u2194-\u2199\u21a9\u21aa\u231a\u231b\u2328\u23cf\u23e9-\u23f3"
    "\u23f8-\u23fa\u24c2\u25aa\u25ab\u25b6\u25c0\u25fb-\u25fe\u2600-\u27bf\u2934\u2935\u2b05-\u2b07"
    "\u2b1b\u2b1c\u2b50\u2b55\u3030\u303d\u3297\u3299\ue000-\uf8ff"
    "\U0001f000-\U0001ffff\U000f0000-\U0010ffff"
)
# Joiners and selectors that ask for pictures, and marks that turn the direction of a line.
UNSEEN = (
    "\u061c\u200b-\u200f\u2028-\u202e\u2060-\u206f\u20e3\ufe00-\ufe0f\ufeff\ufff9-\ufffb\U000e0000-\U000e0fff"
)
_SUSPECT = re.compile(f"[{PICTURES}{UNSEEN}]")
_UNSEEN = re.compile(f"[{UNSEEN}]")


def drawable(text: str) -> str:
    """Return ``text`` with coloured pictures replaced, each by as many dots as it would fill cells."""
    if text.isascii() or not _SUSPECT.search(text):
        return text
    return _SUSPECT.sub(_stand_in, text)


def blanks(text: str) -> str:
    """Return as many blanks as ``text`` would fill cells: what is not there no terminal can set off."""
    seen = _UNSEEN.sub("", text)
    return "".join("  " if east_asian_width(character) in "WF" else " " for character in seen)


def _stand_in(found: re.Match[str]) -> str:
    character = found[0]
    if _UNSEEN.match(character):
        return ""
    return STAND_IN * (2 if east_asian_width(character) in "WF" else 1)
