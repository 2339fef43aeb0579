"""Beginning a thread that a device cannot do without, or refusing in one line."""

from __future__ import annotations

from threading import Thread

from firmware_py.craft.refusal import Refused


def begin(thread: Thread) -> None:
    """Start the thread. Raises Refused where the system gives none."""
    try:
        thread.start()
    except RuntimeError as error:
        raise Refused(
            f"no thread to be had ({error})", where=thread.name, allowed="fewer processes, or a higher limit"
        ) from error
