"""A killed rehearsal leaves no process and no folder behind: seen in /proc and in the temporary folder."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from tests.service.served_bench import wait_for
from tests.tui.terminal_session import TerminalSession
from tui.passing import passing

SLEEPER = [sys.executable, "-c", "import signal; print('here', flush=True); signal.pause()"]
STUBBORN = [
    sys.executable,
    "-c",
    "import signal; signal.signal(15, signal.SIG_IGN); print('here', flush=True); signal.pause()",
]


def running(mark: str) -> list[int]:
    """Return the processes whose environment has ``mark``."""
    found = []
    for proc in Path("/proc").iterdir():
        if proc.name.isdigit() and int(proc.name) != os.getpid():
            try:
                state = (proc / "stat").read_text().rpartition(")")[2].split()[0]
                if mark.encode() in (proc / "environ").read_bytes().split(b"\0") and state != "Z":
                    found.append(int(proc.name))
            except OSError:
                continue
    return found


def test_a_folder_goes_with_the_end_and_what_goes_with_it_is_ended():
    with passing() as session:
        assert session.folder.is_dir()
        (session.folder / "book").write_text("x")
        with subprocess.Popen(SLEEPER, stdout=subprocess.PIPE) as sleeper:
            assert sleeper.stdout is not None
            assert sleeper.stdout.readline() == b"here\n"
            session.goes_too(sleeper)
            session._heir.stdin.close()  # type: ignore[union-attr]
            assert sleeper.wait(20) == -signal.SIGTERM
    assert not session.folder.exists()


def test_a_folder_of_the_person_s_own_stays(tmp_path):
    with passing(tmp_path) as session:
        assert session.folder == tmp_path
    assert tmp_path.is_dir()


def test_one_that_bears_to_be_told_to_end_is_killed(monkeypatch):
    monkeypatch.setattr("tui.passing.END_S", 0.1)
    with subprocess.Popen(STUBBORN, stdout=subprocess.PIPE) as stubborn:
        assert stubborn.stdout is not None
        assert stubborn.stdout.readline() == b"here\n"
        code = "import tui.passing as p, sys; p.END_S = 0.1; sys.exit(p.main([]))"
        subprocess.run([sys.executable, "-c", code], input=b"%d\n" % stubborn.pid, check=True)
        assert stubborn.wait(20) == -signal.SIGKILL


@pytest.mark.parametrize("first", [True, False])
def test_a_rehearsal_on_the_screen_that_is_killed_leaves_nothing(tmp_path, first):
    """The front process alone, or it with the whole group of its terminal."""
    mark = f"TMPDIR={tmp_path}"
    variables = {"TMPDIR": str(tmp_path), "HOME": str(tmp_path / "home")}
    with TerminalSession(sys.executable, "-m", "tui.cli", "rehearse", variables=variables) as on:
        on.until_shown("No plate on the bench")
        assert len(running(mark)) >= 4
        assert list(tmp_path.glob("embertray-*"))
        (os.kill if first else os.killpg)(on.pid, signal.SIGKILL)
        wait_for(lambda: running(mark) == [], 40.0)
    assert list(tmp_path.glob("embertray-*")) == []


def test_a_rehearsal_without_a_screen_that_is_killed_leaves_nothing(tmp_path):
    mark = f"TMPDIR={tmp_path}"
    argv = [sys.executable, "-m", "tui.cli", "rehearse", "--unattended", "--json", "--speed", "1"]
    environ = {**os.environ, "TMPDIR": str(tmp_path), "HOME": str(tmp_path / "home")}
    with subprocess.Popen(argv, env=environ, stdout=subprocess.DEVNULL) as front:
        wait_for(lambda: list(tmp_path.glob("embertray-*/journal.db")))
        front.kill()
    wait_for(lambda: running(mark) == [], 40.0)
    assert list(tmp_path.glob("embertray-*")) == []
