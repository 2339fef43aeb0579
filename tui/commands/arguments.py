"""What an argument of the command line must be before anything is done with it."""

from __future__ import annotations

import argparse
from pathlib import Path

# A week: whoever wants a controller to wait for longer leaves the option out.
LONGEST_S = 7 * 86_400.0


def named(text: str) -> Path:
    """Return a path. An empty one would mean the folder that one happens to be in."""
    if not text or "\0" in text:
        raise argparse.ArgumentTypeError(f"{text!r} is no path; allowed: the name of a file or folder")
    return Path(text)


def seconds(text: str) -> float:
    """Return a time [s], above 0 and at most a week."""
    try:
        found = float(text)
    except ValueError:
        found = -1.0
    if not 0.0 < found <= LONGEST_S:
        words = f"{text[:40]!r} is no time in seconds; allowed: more than 0, up to {LONGEST_S:.0f}"
        raise argparse.ArgumentTypeError(words)
    return found
