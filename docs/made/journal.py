"""What the book holds: every kind of event with its fields, and the columns of the table of runs."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args, get_type_hints

import msgspec

from docs.made.shapes import allowed_words
from docs.made.tables import said, table
from firmware_py.journal.event import Event
from firmware_py.journal.events import AnyEvent
from firmware_py.journal.run_rows import RunRow


def event_kinds() -> Iterator[type[Event]]:
    """Yield every kind of event, in the order in which the code tells of them."""
    yield from get_args(AnyEvent)


def events_part() -> str:
    """Return every kind of event: its name, what it says, its fields."""
    rows = [
        (
            f"`{kind.__struct_config__.tag}`",
            said(kind),
            ", ".join(f"`{field.encode_name}`" for field in msgspec.structs.fields(kind)) or "none",
        )
        for kind in event_kinds()
    ]
    return table(("event", "says", "fields"), rows)


def columns_part() -> str:
    """Return the columns of the table of runs, in their order."""
    kinds = get_type_hints(RunRow)
    rows = [(f"`{name}`", _holds(kinds[name])) for name in RunRow._fields]
    return table(("column", "holds"), rows)


def _holds(kind: object) -> str:
    parts = [part for part in get_args(kind) if part is not type(None)]
    return f"{allowed_words(parts[0])}, or nothing" if parts else allowed_words(kind)
