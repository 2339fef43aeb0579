"""What every event of the journal is made from."""

from __future__ import annotations

from typing import ClassVar

import msgspec


class Event(msgspec.Struct, frozen=True, kw_only=True, tag_field="event", forbid_unknown_fields=True):
    """Something that happened."""

    SCHEMA: ClassVar[int] = 1
