"""What a foot does at the lamp, for the Help page."""

from __future__ import annotations

from firmware_py.facts.views.print import FootRowView


def lamp_foot_rows() -> tuple[FootRowView, ...]:
    """Return what a foot does at the lamp, situation by situation, in words."""
    # Only the Help page needs it, and it is deep in the bench: not worth a screen's start.
    from firmware_py.bench.lamp.lamp_foot import foot_rows

    return foot_rows()
