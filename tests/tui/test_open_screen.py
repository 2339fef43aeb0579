"""What the screen of a rehearsal asks its controller for."""

from argparse import Namespace
from pathlib import Path

from tui.open_screen import _asked


def asked(script: Path) -> list[str]:
    return _asked(Namespace(script=script, trace=None, unattended=False), "4")


def test_a_script_file_is_found_from_wherever_the_controller_runs(tmp_path, monkeypatch):
    (tmp_path / "evening.toml").write_text("", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    assert asked(Path("evening.toml"))[-1] == str(tmp_path / "evening.toml")


def test_a_shipped_script_keeps_its_name():
    assert asked(Path("four-plates"))[-1] == "four-plates"
