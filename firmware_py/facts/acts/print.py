"""What a person can ask of the bench at the printing lamp."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec

from firmware_py.craft.strips import Method
from firmware_py.facts.acts.act import Act
from firmware_py.facts.events.print import LampMode

Words = Annotated[str, msgspec.Meta(min_length=1, max_length=200)]
Label = Annotated[str, msgspec.Meta(max_length=80)]
Seconds = Annotated[float, msgspec.Meta(gt=0.0, le=4 * 3600.0)]
Millimetres = Annotated[float, msgspec.Meta(ge=1.0, le=20_000.0)]
Stops = Annotated[float, msgspec.Meta(gt=0.0, le=6.0)]
LogRange = Annotated[float, msgspec.Meta(gt=0.0, le=4.0)]
Speed = Annotated[float, msgspec.Meta(gt=0.0, le=1e6)]


class PrintAct(Act, frozen=True, kw_only=True):
    """Something a person does at the lamp; it acts on the print that is open."""


class ServeFoot(PrintAct, frozen=True, kw_only=True, tag="serve-foot"):
    """Let the foot serve the lamp or the trays; a press during an exposure always ends it."""

    to: Literal["lamp", "trays"]


class OpenPrint(PrintAct, frozen=True, kw_only=True, tag="open-print"):
    """Begin to print a negative; ``run_id`` is its plate's run (else found by the name, where it is here).

    ``distance_mm`` [mm] is from lamp to frame, as set for the lamp if not said.
    """

    negative: Words
    paper: Words
    run_id: Annotated[str, msgspec.Meta(max_length=36)] | None = None
    grade: Label = ""
    paper_log_range: LogRange | None = None
    paper_speed: Speed | None = None
    distance_mm: Millimetres | None = None


class EndPrint(PrintAct, frozen=True, kw_only=True, tag="end-print"):
    """End the work at the lamp on this negative."""


class ChooseLampMode(PrintAct, frozen=True, kw_only=True, tag="choose-lamp-mode"):
    """Use the lamp by time, by foot alone (bulb), or kept lit while a hand exposes."""

    mode: LampMode


class SetBase(PrintAct, frozen=True, kw_only=True, tag="set-base"):
    """Set the seconds of full light [s] that the whole sheet gets."""

    base_s: Seconds


class PlanStrip(PrintAct, frozen=True, kw_only=True, tag="plan-strip"):
    """Plan a test strip about ``middle_s`` [s], or about the base where that is not said."""

    patches: Annotated[int, msgspec.Meta(ge=2, le=24)] = 7
    step_stops: Annotated[float, msgspec.Meta(ge=0.01, le=4.0)] = 0.5
    middle_s: Seconds | None = None
    method: Method = "covering"


class ChoosePatch(PrintAct, frozen=True, kw_only=True, tag="choose-patch"):
    """Let what this place on the strip got (3.5: half-way from 3 to 4) be the base."""

    place: Annotated[float, msgspec.Meta(ge=1.0, le=24.0)]


class AddBurn(PrintAct, frozen=True, kw_only=True, tag="add-burn"):
    """Let a place of the sheet be darker by ``stops`` [stops]."""

    stops: Stops
    place: Label = ""


class RemoveBurn(PrintAct, frozen=True, kw_only=True, tag="remove-burn"):
    """Take the burn of this number back (1 is the first)."""

    burn: Annotated[int, msgspec.Meta(ge=1, le=99)]


class WantCopies(PrintAct, frozen=True, kw_only=True, tag="want-copies"):
    """Ask for so many more prints; None for as many as the foot asks for."""

    copies: Annotated[int, msgspec.Meta(ge=1, le=999)] | None = None


class ChangeDistance(PrintAct, frozen=True, kw_only=True, tag="change-distance"):
    """Move the lamp to ``distance_mm`` [mm]; the base follows by the inverse square."""

    distance_mm: Millimetres


class ChangePaper(PrintAct, frozen=True, kw_only=True, tag="change-paper"):
    """Take another paper; the base follows by its speed where both speeds are known."""

    paper: Words
    grade: Label = ""
    paper_log_range: LogRange | None = None
    paper_speed: Speed | None = None


class UseProgram(PrintAct, frozen=True, kw_only=True, tag="use-program"):
    """Take base and burns kept with this negative, reckoned for the present paper and distance."""


class Expose(PrintAct, frozen=True, kw_only=True, tag="expose"):
    """Do what the foot would do next; in bulb mode the lamp stays on until `StopExposure`."""


class StopExposure(PrintAct, frozen=True, kw_only=True, tag="stop-exposure"):
    """End the exposure that goes on, at once; nothing happens where none does."""


class PutOut(PrintAct, frozen=True, kw_only=True, tag="put-out"):
    """Put the printing lamp out, whatever it is lit for."""


class ForgoRest(PrintAct, frozen=True, kw_only=True, tag="forgo-rest"):
    """Let a broken-off part be good as it is."""


class FinishSheet(PrintAct, frozen=True, kw_only=True, tag="finish-sheet"):
    """Call the sheet under the lamp finished."""


class GiveUpSheet(PrintAct, frozen=True, kw_only=True, tag="give-up-sheet"):
    """Give up the sheet under the lamp, or drop a strip that is only planned."""


class BatheSheet(PrintAct, frozen=True, kw_only=True, tag="bathe-sheet"):
    """Put the last finished sheet into its first bath now, as a run of its own; a spent bath leaves it ready.

    ``routine`` is one for paper, the first there is if not said; ``sheet`` its number, the last if not said.
    """

    routine: Words | None = None
    sheet: Annotated[int, msgspec.Meta(ge=1)] | None = None


class GiveVerdict(PrintAct, frozen=True, kw_only=True, tag="give-verdict"):
    """Judge what came of the print."""

    verdict: Annotated[str, msgspec.Meta(min_length=1, max_length=2000)]


class NotePrint(PrintAct, frozen=True, kw_only=True, tag="note-print"):
    """Write a remark on the print."""

    text: Annotated[str, msgspec.Meta(min_length=1, max_length=2000)]


AnyPrintAct = (
    ServeFoot
    | OpenPrint
    | EndPrint
    | ChooseLampMode
    | SetBase
    | PlanStrip
    | ChoosePatch
    | AddBurn
    | RemoveBurn
    | WantCopies
    | ChangeDistance
    | ChangePaper
    | UseProgram
    | Expose
    | StopExposure
    | PutOut
    | ForgoRest
    | FinishSheet
    | GiveUpSheet
    | BatheSheet
    | GiveVerdict
    | NotePrint
)
