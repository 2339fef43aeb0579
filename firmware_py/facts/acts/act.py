"""What every act of a person is made from."""

from __future__ import annotations

import msgspec


class Act(msgspec.Struct, frozen=True, kw_only=True, tag_field="act", forbid_unknown_fields=True):
    """Something a person does. ``lane`` None means the lane in focus."""
