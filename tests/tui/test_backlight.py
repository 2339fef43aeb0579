"""The backlight: set by share, never brighter than asked, and honest where it can not be set."""

from __future__ import annotations

from pathlib import Path

import pytest

from tui.backlight import Backlight


class Panel:
    """A folder as the kernel shows a panel, which does what is written unless it is stuck."""

    def __init__(self, folder: Path, full: int = 200, stuck_at: int | None = None) -> None:
        self.folder = folder
        (folder / "max_brightness").write_text(f"{full}\n")
        (folder / "brightness").write_text("200\n")
        if stuck_at is not None:
            (folder / "actual_brightness").write_text(f"{stuck_at}\n")

    @property
    def value(self) -> int:
        return int((self.folder / "brightness").read_text())


@pytest.mark.parametrize(("share", "value"), [(1.0, 100), (0.5, 50), (0.001, 1), (0.0, 0)])
def test_a_panel_gets_its_share_of_what_it_may_have(tmp_path, share, value):
    panel = Panel(tmp_path)
    assert Backlight(tmp_path, 0.5).set(share) == (1.0, "")
    assert panel.value == value


def test_a_panel_that_stays_too_bright_darkens_the_picture_instead(tmp_path):
    Panel(tmp_path, stuck_at=200)
    darkened, words = Backlight(tmp_path, 0.5).set(0.5)
    assert darkened == 0.25
    assert "stays at 200 of 200, and 50 was asked" in words


def test_a_panel_that_can_not_be_written_is_taken_to_be_at_its_most(tmp_path):
    Panel(tmp_path)
    (tmp_path / "brightness").unlink()
    (tmp_path / "brightness").mkdir()
    darkened, words = Backlight(tmp_path, 0.5).set(0.5)
    assert darkened == 0.25
    assert words == "The backlight can not be set: Is a directory"


def test_no_panel_at_all_darkens_the_picture_and_is_said(tmp_path):
    assert Backlight(tmp_path / "none", 0.5).set(0.4) == (
        0.2,
        "The backlight can not be set: No such file or directory",
    )
