"""Ids that sort by time and never meet: UUID version 7 (RFC 9562, section 5.7)."""

from __future__ import annotations

import secrets
from datetime import datetime
from uuid import UUID


def uuid7(now: datetime) -> str:
    """Return a new UUIDv7 for the moment ``now`` (UTC), as its usual text. Source: RFC 9562."""
    millis = int(now.timestamp() * 1000) & ((1 << 48) - 1)
    value = millis << 80 | 0x7 << 76 | secrets.randbits(12) << 64 | 0b10 << 62 | secrets.randbits(62)
    return str(UUID(int=value))
