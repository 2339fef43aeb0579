"""What the gate takes from bench.toml before anything else is loaded."""

from __future__ import annotations

from pathlib import Path

import pytest

from firmware_py.settings import paths
from firmware_py.settings.screen import UNTESTED_RED
from tui.gate import wishes as gate_wishes
from tui.gate.wishes import DIMMEST_RED, Wishes, wishes


@pytest.mark.parametrize(
    ("text", "wanted"),
    [
        ("", Wishes(UNTESTED_RED, bell=False)),
        ("[screen]\nbrightest = 90\n[sounder]\nbody = 'terminal'", Wishes(90, bell=True)),
        ("[screen]\nbrightest = 256", Wishes(DIMMEST_RED)),
        ("[screen]\nbrightest = true", Wishes(DIMMEST_RED)),
        ("[screen]\nbrightest = '90'", Wishes(DIMMEST_RED)),
        ("screen = 3", Wishes()),
        ("[screen", Wishes(DIMMEST_RED)),
    ],
)
def test_a_setting_that_can_not_be_read_never_makes_it_brighter(tmp_path, text, wanted):
    path = tmp_path / "bench.toml"
    path.write_text(text)
    assert wishes(path) == wanted
    assert wishes(tmp_path / "none.toml") == Wishes(DIMMEST_RED)


@pytest.mark.parametrize("named", ["EMBERTRAY_CONFIG", "XDG_CONFIG_HOME", "HOME"])
def test_it_finds_the_file_that_the_settings_find(tmp_path, monkeypatch, named):
    for name in ("EMBERTRAY_CONFIG", "XDG_CONFIG_HOME"):
        monkeypatch.delenv(name, raising=False)
    folder = {"HOME": tmp_path / ".config" / "embertray", "XDG_CONFIG_HOME": tmp_path / "embertray"}
    path = folder.get(named, tmp_path) / "bench.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("[screen]\nbrightest = 77\n")
    monkeypatch.setenv(named, str(path if named == "EMBERTRAY_CONFIG" else tmp_path))
    assert gate_wishes._settings_path() == paths.settings_path() == Path(path)
    assert wishes().level == 77
