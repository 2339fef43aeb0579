"""Where the controller's log goes: stderr, through a queue, so that a slow reader never holds up a timer."""

from __future__ import annotations

import logging
import os
import queue
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from logging.handlers import QueueHandler, QueueListener

from firmware_py.craft.refusal import Refused, shown

LEVEL = "EMBERTRAY_LOG"
LEVELS = {"debug": logging.DEBUG, "info": logging.INFO, "warning": logging.WARNING, "error": logging.ERROR}
# A stuck reader costs lines, not memory.
MOST_WAITING = 1000


class _Leaky(QueueHandler):
    """A handler that drops a line where the queue is full, without a word on the terminal."""

    def enqueue(self, record: logging.LogRecord) -> None:
        """Queue a record, or drop it."""
        try:
            self.queue.put_nowait(record)
        except queue.Full:
            return


@contextmanager
def logging_to_stderr() -> Iterator[None]:
    """Log to stderr while this lasts, at the level in ``$EMBERTRAY_LOG`` (info, if not set).

    Raises `Refused` for an unknown level.
    """
    waiting: queue.Queue[logging.LogRecord] = queue.Queue(MOST_WAITING)
    out = logging.StreamHandler(sys.stderr)
    out.setFormatter(logging.Formatter("%(levelname)s %(name)s: %(message)s"))
    handler, listener = _Leaky(waiting), QueueListener(waiting, out)
    root = logging.getLogger("embertray")
    root.setLevel(_level())
    root.addHandler(handler)
    listener.start()
    try:
        yield
    finally:
        root.removeHandler(handler)
        listener.stop()


def _level() -> int:
    wanted = os.environ.get(LEVEL, "info")
    if wanted not in LEVELS:
        raise Refused(f"log level {shown(wanted)}", where=f"${LEVEL}", allowed=", ".join(LEVELS))
    return LEVELS[wanted]
