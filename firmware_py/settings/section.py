"""What the tables of ``bench.toml`` have in common."""

from __future__ import annotations

from typing import Annotated

import msgspec

Name = Annotated[str, msgspec.Meta(min_length=1, max_length=60)]
# A tray, the jacket, the room, or a bath by the name that the routines give it.
Place = Annotated[str, msgspec.Meta(pattern=r"^(?!tray ).{1,60}\Z|^tray [1-6]\Z")]
# A file or folder, each of its names short enough for any file system; an empty one would mean the folder one
# happens to be in.
PathName = Annotated[
    str, msgspec.Meta(pattern=r"^/*[^/\x00-\x1f]{1,250}(?:/+[^/\x00-\x1f]{1,250}){0,60}/*\Z")
]
BcmPin = Annotated[int, msgspec.Meta(ge=0, le=27)]
# A device file, as the kernel or udev names it.
DevicePath = Annotated[str, msgspec.Meta(pattern=r"^/[^\x00-\x1f]{1,250}\Z")]
Baud = Annotated[int, msgspec.Meta(ge=300, le=921_600)]


class Section(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A table of the file."""


def check_within(key: str, value: float, low: float, high: float, unit: str) -> None:
    """Refuse a value outside of its bounds, in the words of the file."""
    if not low <= value <= high:
        raise ValueError(f"`{key}` is {value:g} {unit}; allowed: {low:g} {unit} to {high:g} {unit}")


def check_belongs(section: Section, body: str, kinds: tuple[str, ...], keys: tuple[str, ...]) -> None:
    """Refuse keys that say something of another body than the section has."""
    if body in kinds:
        return
    fields = {field.name: field.default for field in msgspec.structs.fields(type(section))}
    said = [key for key in keys if getattr(section, key) != fields[key]]
    if said:
        raise ValueError(f"`{said[0]}` is for {' and '.join(kinds)}, and the body is {body}")
