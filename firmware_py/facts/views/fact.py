"""What every fact that the bench shows is made from."""

from __future__ import annotations

import msgspec


class Fact(msgspec.Struct, frozen=True, kw_only=True):
    """A fact on display, plain enough for any screen: words, and numbers with their units in the names."""
