"""Run the switchboard (``python -m firmware_py.switchboard [BEATS]``): commands on stdin, reports on stdout.

``BEATS`` is the number of an inherited pipe to its guardian: a byte at every sign of life.
"""

from __future__ import annotations

import os
import sys

from firmware_py.switchboard.realtime import end_with_parent
from firmware_py.switchboard.station import Station


def main() -> None:
    """Serve until the end, then leave every line driven at its safe level."""
    end_with_parent()
    beats = int(sys.argv[1]) if len(sys.argv) > 1 else None
    status, station = 1, Station(0, 1, beats)
    try:
        why = station.serve()
        status = 0 if why == "asked to leave" else 1
        sys.stderr.write(f"switchboard: {why}\n")
        sys.stderr.flush()
    finally:
        # Not sys.exit: gpiozero's clean-up would turn the lines into floating inputs. Left as they are, the
        # kernel either keeps them at their safe level or gives them back to their pull resistors.
        os._exit(status)


if __name__ == "__main__":
    main()
