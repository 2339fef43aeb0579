"""What is said on the Daylight page, as a person types it, remembered from one time to the next."""

from __future__ import annotations

import argparse
import json
import re
from contextlib import suppress
from dataclasses import asdict, dataclass, fields, replace
from pathlib import Path

from firmware_py.craft.dates import HOURS
from firmware_py.craft.dates import read_hour as spoken
from firmware_py.craft.refusal import Refused, shown

FILE = "screen-daylight.json"
LONGEST = 80
_ZONED = re.compile(r"(.*?)\s*([+-]\d\d:?\d\d|Z)?(\s+sun)?", re.IGNORECASE)
# A date that was remembered would be an old one.
FORGOTTEN = frozenset({"day", "hour"})


@dataclass(frozen=True, slots=True)
class OutingWords:
    """Every field as typed; what is empty is not said yet. ``factor`` is that of the filters.

    ``correction`` [stops] is what the book has learned of the ``box``, and ``learned`` that in words.
    """

    place: str = ""
    day: str = ""
    hour: str = ""
    sky: str = "clear"
    kind: str = "blue"
    index: str = ""
    stop: str = "f/16"
    magnification: str = ""
    factor: str = ""
    subject: str = "landscape"
    lighting: str = "front"
    box: str = ""
    correction: str = ""
    learned: str = ""

    @property
    def missing(self) -> str:
        """Get what must still be said, in words, or nothing."""
        if not self.place:
            return "Say the place first: key 1"
        return "" if self.index else "Say the plate and its index: key 5"


def remembered_outing(folder: Path) -> OutingWords:
    """Return what was said the last time; what can not be read is forgotten."""
    with suppress(OSError, ValueError):
        kept = json.loads((folder / FILE).read_text(encoding="utf-8"))
        if isinstance(kept, dict):
            known = {field.name for field in fields(OutingWords)} - FORGOTTEN
            said = {name: words for name, words in kept.items() if name in known and _is_said(words)}
            return replace(OutingWords(), **said)
    return OutingWords()


def remember_outing(words: OutingWords, folder: Path) -> None:
    """Keep what was said; a folder that can not be written to only makes it forgotten."""
    kept = {name: text for name, text in asdict(words).items() if name not in FORGOTTEN}
    with suppress(OSError):
        folder.mkdir(parents=True, exist_ok=True)
        (folder / FILE).write_text(json.dumps(kept), encoding="utf-8")


def arguments(words: OutingWords) -> argparse.Namespace:
    """Return the words as the command line would have them."""
    return argparse.Namespace(
        at=words.place,
        plate=words.kind,
        index=words.index,
        sky=words.sky,
        subject=words.subject,
        lighting=words.lighting,
        height=None,
        magnification=words.magnification or None,
        bellows=None,
        distance=None,
        focal=None,
        filter=[words.factor] if words.factor else [],
        correction=words.correction or None,
        box=None,
        journal=None,
        index_sun=None,
        reciprocity=None,
        sheet=None,
        offset="",
        stop=None,
        widest="f/5.6",
        smallest="f/64",
        half_stops=False,
    )


def read_hour(words: OutingWords) -> tuple[str, str | None]:
    """Return the hour as an ISO 8601 time, and "apparent" where the sun is the clock. Raises `Refused`."""
    plain = words.hour.strip()
    hour, _, by = plain.partition(" ")
    if by.strip().lower() not in {"", "sun"}:
        raise Refused(f"{plain!r} is no hour", where="hour", allowed="11:30, 11:30+01:00, or 11:30 sun")
    return f"{words.day}T{hour}", "apparent" if by else None


def spoken_hour(text: str) -> str:
    """Return an hour as `read_hour` takes it, from "4 pm", "16", "11:30+01:00" or "4 pm sun"."""
    found = _ZONED.fullmatch(text.strip())
    if found is None:
        raise Refused(f"{shown(text)} is no hour", where="hour", allowed=f"{HOURS}, or with +01:00 or sun")
    hour, zone, sun = found.groups(default="")
    return f"{spoken(hour, where='hour'):%H:%M}{zone}{' sun' if sun else ''}"


def _is_said(words: object) -> bool:
    return isinstance(words, str) and len(words) <= LONGEST and words.isprintable()
