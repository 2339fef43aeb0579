"""What the command line takes for a time or a path, and what it refuses in one line."""

from __future__ import annotations

from pathlib import Path

import pytest

from tui.cli import main
from tui.commands.arguments import named, seconds


def test_a_time_and_a_path_are_taken_as_given():
    assert seconds("90") == 90.0
    assert seconds("0.5") == 0.5
    assert named("a/b") == Path("a/b")


@pytest.mark.parametrize("given", ["nan", "inf", "-inf", "-5", "0", "1e9", "9" * 400, "soon", ""])
def test_a_controller_is_not_told_to_wait_for_no_time(given, capsys):
    assert main(["serve", "--rehearsal", f"--alone={given}"]) == 2
    said = capsys.readouterr().err
    assert said.splitlines()[-1].count("allowed: more than 0, up to 604800") == 1
    assert "Traceback" not in said


@pytest.mark.parametrize("option", ["--state", "--socket", "--config", "--script", "--trace"])
@pytest.mark.parametrize("given", ["", "a\0b"])
def test_an_empty_path_does_not_mean_the_folder_one_happens_to_be_in(option, given, capsys):
    assert main(["serve", "--rehearsal", f"{option}={given}"]) == 2
    assert "is no path" in capsys.readouterr().err.splitlines()[-1]
