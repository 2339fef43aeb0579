"""The command line from the outside: exit codes, one line of refusal, and JSON that can be read."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tui.cli import COMMANDS, main


def test_the_rehearsal_prints_its_outcome_as_json(capsys: pytest.CaptureFixture[str]):
    """Every field that the outcome promises."""
    assert main(["rehearse", "--unattended", "--speed", "max", "--json"]) == 0
    came = json.loads(capsys.readouterr().out)
    (run,), (made,) = came["runs"], came["prints"]
    promised = {
        "run_id", "plate", "routine", "ended", "elapsed_s", "equivalent_s", "target_s",
        "reference_degC", "rate_per_K", "bath_degC", "marks", "steps",
    }  # fmt: skip
    assert promised <= set(run)
    assert set(run["bath_degC"]) == {"min", "mean", "max"}
    assert {"what", "elapsed_s", "equivalent_s"} <= set(run["marks"][0])
    assert {"planned_s", "measured_s", "effective_s", "patches"} <= set(made)
    assert {"patch", "wanted_s", "planned_s", "measured_s", "effective_s"} == set(made["patches"][0])


def test_without_a_terminal_the_rehearsal_plays_by_itself(capsys: pytest.CaptureFixture[str]):
    """And prints what a person can read."""
    assert main(["rehearse"]) == 0
    said = capsys.readouterr().out
    assert "REHEARSAL" in said
    assert "equivalent   6:00" in said


@pytest.mark.parametrize(
    ("name", "content", "option"),
    [
        ("s.toml", 'title = "x"\n', "--script"),
        ("t.csv", "a,b\n", "--trace"),
        ("absent.csv", None, "--trace"),
    ],
)
def test_a_bad_file_is_one_line_and_exit_1_and_nothing_is_started(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, content: str | None, option: str
):
    """The state folder is not even made."""
    path = tmp_path / name
    if content is not None:
        path.write_text(content, encoding="utf-8")
    state = tmp_path / "state"
    assert main(["rehearse", "--unattended", option, str(path), "--state", str(state)]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.startswith("embertray: ")
    assert name in said.err
    assert said.err.count("\n") == 1
    assert not state.exists()


def test_a_bad_speed_is_refused(capsys: pytest.CaptureFixture[str]):
    """With what is allowed."""
    assert main(["rehearse", "--unattended", "--speed", "fast"]) == 1
    assert "allowed: max, or 0.1 to 10000" in capsys.readouterr().err


def test_wrong_usage_is_exit_2(capsys: pytest.CaptureFixture[str]):
    """argparse's own words, on stderr."""
    assert main(["rehearse", "--no-such-thing"]) == 2
    assert "--no-such-thing" in capsys.readouterr().err


def test_serving_a_bench_that_is_not_configured_is_refused(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
):
    """Never a silent rehearsal."""
    monkeypatch.setenv("EMBERTRAY_CONFIG", str(tmp_path / "none.toml"))
    assert main(["serve"]) == 1
    assert "none.toml: cannot be read" in capsys.readouterr().err


def test_check_says_what_is_wrong_and_leaves_with_1(tmp_path: Path, capsys: pytest.CaptureFixture[str]):
    """Every finding a line."""
    config = tmp_path / "bench.toml"
    config.write_text('[bench]\npins = "mock"\n[relay.safelight]\npin = 40\n', encoding="utf-8")
    assert main(["check", "--config", str(config)]) == 1
    assert "WRONG" in capsys.readouterr().out


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_can_be_asked_for_help(command: str, capsys: pytest.CaptureFixture[str]):
    """And says what it does."""
    assert main([command, "--help"]) == 0
    assert "usage: embertray" in capsys.readouterr().out
