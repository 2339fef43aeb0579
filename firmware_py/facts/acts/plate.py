"""What a person can ask of the book of plates: boxes, holders, loading, exposures, and a plate's end."""

from __future__ import annotations

from typing import Annotated

import msgspec

from firmware_py.craft.light_allowed import Sensitivity
from firmware_py.facts.acts.act import Act
from firmware_py.facts.events.life import Reached

MOST_PLATES = 60
MOST_LINES = 100

Name = Annotated[str, msgspec.Meta(min_length=1, max_length=60)]
BoxName = Annotated[str, msgspec.Meta(min_length=1, max_length=30, pattern=r"^[^\s/]([^/]*[^\s/])?$")]
HolderName = Annotated[str, msgspec.Meta(min_length=1, max_length=8, pattern=r"^[^\s/]+$")]
SideName = Annotated[str, msgspec.Meta(min_length=1, max_length=4, pattern=r"^[^\s/]+$")]
Label = Annotated[str, msgspec.Meta(max_length=60)]
Line = Annotated[str, msgspec.Meta(max_length=120)]
Remark = Annotated[str, msgspec.Meta(max_length=300)]
Day = Annotated[str, msgspec.Meta(min_length=8, max_length=40)]
Index = Annotated[float, msgspec.Meta(ge=0.001, le=10_000.0)]
Count = Annotated[int, msgspec.Meta(ge=1, le=MOST_PLATES)]
FNumber = Annotated[float, msgspec.Meta(ge=0.5, le=1024.0)]
Seconds = Annotated[float, msgspec.Meta(gt=0.0, le=7 * 86400.0)]
Factor = Annotated[float, msgspec.Meta(ge=1.0, le=100_000.0)]
Latitude = Annotated[float, msgspec.Meta(ge=-90.0, le=90.0)]
Longitude = Annotated[float, msgspec.Meta(ge=-180.0, le=180.0)]
BROKEN_GLASS = (
    "Broken glass: no bare hands in tray, holder or sink. White light only once no plate is open; then tongs "
    "or thick gloves, wet paper for the splinters, and rinse the holder out before a plate goes in"
)


class PlateAct(Act, frozen=True, kw_only=True):
    """Something a person does with the book of plates. A plate can be named by the side it lies in."""


class EnterBox(PlateAct, frozen=True, kw_only=True, tag="enter-box"):
    """Enter a box of so many ``plates``; box "spring" has the plates spring/1, spring/2.

    ``size``, ``emulsion`` and ``sensitivity`` are the usual ones where not said; ``opened`` (ISO 8601, UTC).
    """

    name: BoxName
    plates: Count
    size: Label = ""
    emulsion: Label = ""
    sensitivity: Sensitivity | None = None
    speed_index: Index | None = None
    batch: Label = ""
    opened: Day | None = None


class DescribeBox(PlateAct, frozen=True, kw_only=True, tag="describe-box"):
    """Put right what a box is; what is not said stays as it was."""

    box: Name
    size: Label = ""
    emulsion: Label = ""
    sensitivity: Sensitivity | None = None
    speed_index: Index | None = None
    batch: Label = ""
    opened: Day | None = None


class FinishBox(PlateAct, frozen=True, kw_only=True, tag="finish-box"):
    """Say that no plate will be taken from a box any more."""

    box: Name
    why: Label = ""


class EnterHolder(PlateAct, frozen=True, kw_only=True, tag="enter-holder"):
    """Enter a holder: 3 with the sides A and B has the sides 3A and 3B."""

    name: HolderName
    sides: Annotated[tuple[SideName, ...], msgspec.Meta(min_length=1, max_length=24)] = ("A", "B")
    size: Label = ""


class SetHolderAside(PlateAct, frozen=True, kw_only=True, tag="set-holder-aside"):
    """Take an empty holder out of use."""

    holder: Name
    why: Label = ""


class LoadPlate(PlateAct, frozen=True, kw_only=True, tag="load-plate"):
    """Put a plate into a side: the one named, or the next of the box; the only box there is if none is."""

    side: Name
    plate: Label = ""
    box: Label = ""


class UnloadPlate(PlateAct, frozen=True, kw_only=True, tag="unload-plate"):
    """Take the plate out of a side and put it into a box."""

    side: Name
    why: Label = ""


class MarkExposed(PlateAct, frozen=True, kw_only=True, tag="mark-exposed"):
    """Say that the plate in a side is exposed."""

    side: Name


class TakeBackExposure(PlateAct, frozen=True, kw_only=True, tag="take-back-exposure"):
    """Say that it was a mistake to call a plate exposed."""

    plate: Name


class NoteExposure(PlateAct, frozen=True, kw_only=True, tag="note-exposure"):
    """Say what the exposure of a plate was; it replaces what was said before. Fields as `ExposureNoted`."""

    plate: Name
    taken: Label = ""
    where: Line = ""
    latitude_deg: Latitude | None = None
    longitude_deg: Longitude | None = None
    subject: Line = ""
    scene: Label = ""
    sky: Label = ""
    lighting: Label = ""
    stop: Label = ""
    f_number: FNumber | None = None
    time_s: Seconds | None = None
    extension: Label = ""
    extension_factor: Factor = 1.0
    filters: Label = ""
    filter_factor: Factor = 1.0
    remark: Remark = ""


class WrittenLine(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """A line of a table of exposures: its number in the file, and what it says of a plate."""

    line: Annotated[int, msgspec.Meta(ge=1)]
    note: NoteExposure


class ImportExposures(PlateAct, frozen=True, kw_only=True, tag="import-exposures"):
    """Take in the exposures written down in a table: all of them or none; again, it changes nothing."""

    lines: Annotated[tuple[WrittenLine, ...], msgspec.Meta(min_length=1, max_length=MOST_LINES)]


class AdvancePlate(PlateAct, frozen=True, kw_only=True, tag="advance-plate"):
    """Say by hand that a plate is fixed, washed or dry, where no run did."""

    plate: Name
    to: Reached


class FilePlate(PlateAct, frozen=True, kw_only=True, tag="file-plate"):
    """Put a dry plate away where negatives are kept."""

    plate: Name
    place: Label = ""


class BreakPlate(PlateAct, frozen=True, kw_only=True, tag="break-plate"):
    """Say that a plate broke, or was spoilt and thrown away."""

    plate: Name
    how: Label = ""


class NotePlate(PlateAct, frozen=True, kw_only=True, tag="note-plate"):
    """Write a remark on a plate."""

    plate: Name
    text: Annotated[str, msgspec.Meta(min_length=1, max_length=2000)]


AnyPlateAct = (
    EnterBox
    | DescribeBox
    | FinishBox
    | EnterHolder
    | SetHolderAside
    | LoadPlate
    | UnloadPlate
    | MarkExposed
    | TakeBackExposure
    | NoteExposure
    | ImportExposures
    | AdvancePlate
    | FilePlate
    | BreakPlate
    | NotePlate
)
