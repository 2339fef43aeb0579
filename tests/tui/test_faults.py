"""What a screen keeps for itself is nobody else's to read."""

from __future__ import annotations

import stat

from tui.faults import FAULT_FILE, kept
from tui.light import LIGHT_FILE, remember, remembered


def test_the_file_of_faults_is_private_and_grows(tmp_path):
    """Found by the storm: it was open to every user whose way led through the folder."""
    folder = tmp_path / "state"
    for what in ("first", "second"):
        assert "kept in" in kept(ValueError(what), folder)
    file = folder / FAULT_FILE
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert stat.S_IMODE(folder.stat().st_mode) == 0o700
    assert file.read_text().count("ValueError") == 2


def test_the_brightness_is_kept_in_a_private_file(tmp_path):
    """Found by the storm, the same."""
    remember(7, tmp_path)
    assert remembered(tmp_path) == 7
    assert stat.S_IMODE((tmp_path / LIGHT_FILE).stat().st_mode) == 0o600
