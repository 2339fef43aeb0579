"""Opens the red screen: behind the gate, on the configured bench or on the simulated one."""

from __future__ import annotations

import argparse

from firmware_py.craft.refusal import Refused


def open_screen(args: argparse.Namespace) -> int:  # noqa: ARG001 - the screen lands next
    """Open the screen on the configured bench, or on the simulated one where none is configured."""
    raise Refused("the screen is not here yet", allowed="rehearse --unattended")


def rehearse_on_screen(args: argparse.Namespace) -> int:  # noqa: ARG001 - the screen lands next
    """Rehearse on the red screen."""
    raise Refused("the screen is not here yet", allowed="rehearse --unattended, with its output in a pipe")
