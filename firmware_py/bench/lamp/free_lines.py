"""Refuses to expose a fresh sheet that could not be developed: no run would be free for it.

Common practice, no source: exposed paper is not kept waiting without need, and is kept in the dark.
"""

from __future__ import annotations

from firmware_py.craft.refusal import NotNow
from firmware_py.journal.print_record import PrintRecord


def require_free_line(record: PrintRecord, free: int) -> None:
    """Refuse the first exposure of a sheet for which no run would be free; ``free`` is how many are.

    A finished sheet that waits for its baths needs a run as well. A sheet that has had light already is
    completed: it is no better for a part of its exposure.
    """
    if record.sheet is not None and record.sheet.is_touched:
        return
    waiting = sum(1 for sheet in record.sheets if sheet.ended == "finished" and sheet.run_id is None)
    if waiting < free:
        return
    what = "no run is free for another sheet" + (
        f": {waiting} exposed wait for their baths" if waiting else ""
    )
    raise NotNow(
        what,
        where="lamp",
        next="keep paper and exposed sheets in the dark; bring a run to its end or develop those that wait, "
        "or end the print if they are developed without a run",
    )
