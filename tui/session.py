"""What runs behind the gate when no controller is named: find the bench, see that it runs, show it."""

from __future__ import annotations

import sys
from functools import partial

from firmware_py.craft.refusal import Refused
from firmware_py.service.place import bench_place, see_that_it_runs
from firmware_py.service.starting import answers
from tui.app import show
from tui.first_light import ask_at_first_start
from tui.gate.dark import is_dark
from tui.gate.still_open import bears_no_light

GOES_ON = "The controller goes on without a screen: embertray status, embertray stop"


def main() -> int:
    """Open the screen on the configured bench, or on the simulated one where none is configured."""
    try:
        place = bench_place()
        see_that_it_runs(place)
    except Refused as refusal:
        sys.stderr.write(f"embertray: {refusal.line}\n")
        return 1
    ask_at_first_start(
        place.state,
        place.screen.brightest,
        is_dark=lambda: is_dark(place.state) or bears_no_light(place.socket),
    )
    status = show(place.socket, place.state, start=partial(see_that_it_runs, place), rule=place.screen)
    if answers(place.socket):
        sys.stdout.write(f"{GOES_ON}\n")
    return status


if __name__ == "__main__":
    sys.exit(main())
