"""What the book holds: every kind of event with its fields."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

import msgspec

from docs.made.tables import said, table
from firmware_py.facts.events.event import Event
from firmware_py.facts.events.run import AnyEvent


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
