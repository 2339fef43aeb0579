"""The Plates page: what lies in which side, what waits for development, what is left in the boxes."""

from __future__ import annotations

from collections.abc import Iterable
from typing import ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widget import Widget

from firmware_py.facts.views.bench import BenchView
from tui.moment import Moment
from tui.pages.plates.deeds import PlateDeeds
from tui.pages.plates.keys import KEYS
from tui.pages.plates.words import PlateRow, box_line, exposure_lines, plate_heads, plate_line, waiting_words
from tui.pages.shared.binding import bindings
from tui.pages.shared.key_use import KeyUse
from tui.pages.shared.page import Page
from tui.pages.shared.rows import around, at_most, standing_out, wrapped
from tui.pages.shared.time_words import cut_between
from tui.widgets.asking import Asking
from tui.widgets.line import Line

WIDE_COLUMNS = 110
MOST_BOX_LINES, MOST_BOX_LINES_WIDE = 4, 8


class PlatesPage(PlateDeeds, Page, inherit_bindings=False):
    """Holders with their sides, plates on their way, and boxes."""

    NAME = "PLATES"
    BINDINGS: ClassVar[list[BindingType]] = bindings(KEYS)

    def middle(self) -> Iterable[Widget]:
        """Give the rows, the exposure of the plate that is chosen, and the boxes."""
        for name in ("title", "plate_rows", "plate_detail", "boxes"):
            yield Line(id=name)

    def on_asking_changed(self, event: Asking.Changed) -> None:
        """Give the room of the boxes to a question, so that the rows keep their own."""
        self.line("boxes").display = not event.open

    def offers(self, use: KeyUse) -> bool:
        """Return whether a key holds for the row that is chosen."""
        row = self.row
        if use.act == "load":
            return any(one.side and one.plate is None for one in self.rows)
        stage = row.plate.stage if row is not None and row.plate is not None else ""
        return {
            "unload": row is not None and bool(row.side) and bool(stage),
            "exposed": stage == "loaded",
            "open_run": stage in {"boxed", "loaded", "exposed"} and not _in_a_tray(row),
            "write": bool(stage),
            "plate": bool(stage),
        }.get(use.act, True)

    def draw(self, moment: Moment) -> None:
        """Draw what has changed."""
        super().draw(moment)
        view, width = moment.view, self.size.width
        if view is None:
            return
        self.line("title").show(plate_heads(width) if view.plates.holders else _first_steps(view))
        row = self.row
        detail = exposure_lines(row.plate) if row is not None and row.plate is not None else []
        moved = [
            self.line("plate_detail").fill(wrapped(detail, width)),
            self.line("boxes").fill(self._boxes(view)),
        ]
        self.line("plate_rows").show(self._rows(view))
        if any(moved):
            # The rows have as much room as the others leave them, known once they have theirs.
            self.call_after_refresh(self.post_message, self.Laid())

    def _rows(self, view: BenchView) -> Content:
        rows, row = self.rows, self.row
        at = rows.index(row) if row is not None else 0
        shown = around(rows, at, max(1, self.line("plate_rows").size.height))
        return Content("\n").join(self._row(one, n + 1, view.utc) for n, one in shown)

    def _row(self, row: PlateRow, number: int, utc: str) -> Content:
        here, width = row == self.row, self.size.width
        words = plate_line(row, number, utc, width, here=here)
        if here:
            return standing_out(words, width)
        waits = row.plate is not None and row.plate.stage == "exposed"
        return Content.styled(words, "bold") if waits else Content(words)

    def _boxes(self, view: BenchView) -> list[str]:
        width = self.size.width
        most = MOST_BOX_LINES_WIDE if width >= WIDE_COLUMNS else MOST_BOX_LINES
        boxes = [cut_between(f" {box_line(box)}", width, between="; ") for box in view.plates.boxes]
        boxes = at_most(boxes, most, "boxes more")
        return [f"{waiting_words(view.plates)}{self._hidden()}", *boxes] if view.plates.holders else boxes

    def _hidden(self) -> str:
        """Return that there are more rows than are shown, where that is so."""
        room, rows = self.line("plate_rows").size.height, len(self.rows)
        return f"; {room} of {rows} rows are shown: ↓ ↑" if 0 < room < rows else ""


def _in_a_tray(row: PlateRow | None) -> bool:
    return row is not None and row.plate is not None and bool(row.plate.tray)


def _first_steps(view: BenchView) -> str:
    if view.plates.boxes:
        return " No holder yet: N, then 2. A holder called 3 has the sides 3A and 3B"
    return " The book knows no box and no holder yet: N enters a box, then a holder"
