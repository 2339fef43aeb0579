"""A bar that fills, drawn in text beside the words it belongs to."""

from __future__ import annotations


def with_bar(words: str, share: float | None, width: int) -> str:
    """Return words followed by a bar that is full to ``share`` (0 to 1), as ``width`` columns allow."""
    room = width - len(words) - 2
    if share is None or room < 5:
        return words
    full = min(room, int(share * room))
    return f"{words}  {'█' * full}{'░' * (room - full)}"
