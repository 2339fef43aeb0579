"""What runs behind the gate when no controller is named: find the bench, see that it runs, show it."""

from __future__ import annotations

import sys

from firmware_py.craft.refusal import Refused
from firmware_py.service.starting import answers, start_controller, wait_until_it_listens
from firmware_py.settings import read_settings, settings_path, socket_path, state_folder
from tui.app import show

# A simulated bench that nobody looks at any more need not go on for ever.
REHEARSAL_ALONE_S = 600


def main() -> int:
    """Open the screen on the configured bench, or on the simulated one where none is configured."""
    try:
        path = settings_path()
        settings = read_settings(path) if path is not None else None
        state = state_folder(settings)
        socket = socket_path(settings, state)
        if not answers(socket):
            rehearsal = ["--rehearsal", "--alone", str(REHEARSAL_ALONE_S)]
            named = rehearsal if path is None else ["--config", str(path)]
            process = start_controller([*named, "--state", str(state), "--socket", str(socket)], state)
            wait_until_it_listens(process, socket, state)
    except Refused as refusal:
        sys.stderr.write(f"embertray: {refusal.line}\n")
        return 1
    return show(socket, state)


if __name__ == "__main__":
    sys.exit(main())
