"""Dates and hours on the command line as people say them; what was read is told back."""

from __future__ import annotations

from datetime import datetime

from firmware_py.craft.dates import read_when


def spoken_moment(text: str, *, where: str, by_sun: bool, offset: str) -> tuple[str, str]:
    """Return a moment as ISO 8601 text and, where it was said another way, a line that tells it.

    Where nothing else says what its hours are counted by, this machine's zone does. Raises `Refused`.
    """
    try:
        datetime.fromisoformat(text.strip())
    except ValueError:
        from firmware_py.service.here import now_here
    else:
        return text, ""
    moment = read_when(text, now=now_here(), where=where)
    if by_sun or offset:
        moment = moment.replace(tzinfo=None)
    elif moment.tzinfo is not None:
        # The zone may have another offset on that day than now.
        moment = moment.replace(tzinfo=None).astimezone()
    said = moment.isoformat(timespec="minutes")
    return said, f"read as {said}"
