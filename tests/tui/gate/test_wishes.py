"""What the gate takes from bench.toml before anything else is loaded."""

from __future__ import annotations

from pathlib import Path

import pytest

from firmware_py.settings import paths, read_settings
from firmware_py.settings.screen import UNTESTED_RED
from tui.gate import wishes as gate_wishes
from tui.gate.wishes import DIMMEST_RED, wishes


@pytest.fixture(autouse=True)
def _nothing_named(monkeypatch):
    for name in ("EMBERTRAY_CONFIG", "EMBERTRAY_STATE", "XDG_CONFIG_HOME", "XDG_STATE_HOME"):
        monkeypatch.delenv(name, raising=False)


@pytest.mark.parametrize(
    ("text", "level", "bell"),
    [
        ("", UNTESTED_RED, False),
        ("[screen]\nbrightest = 90\n[sounder]\nbody = 'terminal'", 90, True),
        ("[screen]\nbrightest = 256", DIMMEST_RED, False),
        ("[screen]\nbrightest = true", DIMMEST_RED, False),
        ("[screen]\nbrightest = '90'", DIMMEST_RED, False),
        ("screen = 3", UNTESTED_RED, False),
        ("[screen", DIMMEST_RED, False),
        (f"a = {'[' * 5000}", DIMMEST_RED, False),
    ],
)
def test_a_setting_that_can_not_be_read_never_makes_it_brighter(tmp_path, text, level, bell):
    path = tmp_path / "bench.toml"
    path.write_text(text)
    found = wishes(path)
    assert (found.level, found.bell) == (level, bell)
    assert wishes(tmp_path / "none.toml").level == DIMMEST_RED


@pytest.mark.parametrize("named", ["EMBERTRAY_CONFIG", "XDG_CONFIG_HOME", "HOME"])
def test_it_finds_the_file_that_the_settings_find(tmp_path, monkeypatch, named):
    folder = {"HOME": tmp_path / ".config" / "embertray", "XDG_CONFIG_HOME": tmp_path / "embertray"}
    path = folder.get(named, tmp_path) / "bench.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text("[screen]\nbrightest = 77\n")
    monkeypatch.setenv(named, str(path if named == "EMBERTRAY_CONFIG" else tmp_path))
    assert gate_wishes._settings_path() == paths.settings_path() == Path(path)
    assert wishes().level == 77


@pytest.mark.parametrize("bench", ["", "state = '/srv/bench'", "socket = '/run/b.sock'", None])
@pytest.mark.parametrize("named", ["EMBERTRAY_STATE", "XDG_STATE_HOME", "HOME"])
def test_it_finds_the_bench_where_the_settings_find_it(tmp_path, monkeypatch, named, bench):
    monkeypatch.setenv("HOME", str(tmp_path / "home"))
    monkeypatch.setenv(named, str(tmp_path))
    settings = None
    if bench is not None:
        path = tmp_path / "bench.toml"
        path.write_text(f"[bench]\n{bench}\n")
        monkeypatch.setenv("EMBERTRAY_CONFIG", str(path))
        settings = read_settings(path)
    state = paths.state_folder(settings)
    found = wishes()
    assert (found.state, found.socket) == (state, paths.socket_path(settings, state))
