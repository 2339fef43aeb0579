"""Forty writers killed at random moments lose nothing that they had acknowledged."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path


def test_every_event_acknowledged_before_a_kill_is_there_and_none_twice(tmp_path: Path):
    """The 200 of the benchmark are run by hand: ``python -m tests.benchmarks.journal --kills 200``."""
    command = [sys.executable, "-m", "tests.journal.kills", "--kills", "40", str(tmp_path)]
    ended = subprocess.run(command, check=True, capture_output=True, text=True)
    tally = json.loads(ended.stdout)
    assert tally["kills"] == 40
    assert tally["acknowledged"] >= 20  # one at least of each that was killed in the midst of its work
    assert tally["stored"] >= tally["acknowledged"]
    bad = {key: tally[key] for key in ("lost", "twice", "torn", "broken_links", "bad_files", "false_alarms")}
    assert bad == dict.fromkeys(bad, 0)
