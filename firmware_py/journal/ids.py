"""Ids that sort by time and never meet: UUID version 7 (RFC 9562, section 5.7)."""

from __future__ import annotations

import secrets
from datetime import datetime
from threading import Lock
from uuid import UUID

_VERSION = 0x7 << 76
_VARIANT = 0b10 << 62
_turn = Lock()
_last = 0


def uuid7(now: datetime) -> str:
    """Return a new UUIDv7 for the moment ``now`` (UTC), as its usual text.

    Ids made by one program rise even within a millisecond, so that sorting by id is sorting by making.
    Source: RFC 9562, section 6.2 (monotonic random).
    """
    global _last  # noqa: PLW0603 - the one id made last is the program's, not a caller's
    millis = int(now.timestamp() * 1000) & ((1 << 48) - 1)
    with _turn:
        # 74 random bits behind the time; the step leaves room for millions of ids in one millisecond.
        fresh = millis << 74 | secrets.randbits(73)
        _last = fresh if fresh > _last else _last + 1 + secrets.randbits(32)
        rest = _last
    time, random_a, random_b = rest >> 74, rest >> 62 & 0xFFF, rest & ((1 << 62) - 1)
    return str(UUID(int=time << 80 | _VERSION | random_a << 64 | _VARIANT | random_b))
