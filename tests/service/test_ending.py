"""``embertray status``, ``stop`` and ``restart`` on a real controller: what is said, refused, read again."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from firmware_py.service.ending import running
from firmware_py.service.messages import PROTOCOL, Hello, Welcome
from tests.service.served_bench import ServedBench, served
from tui import session
from tui.cli import main


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    with served(tmp_path) as controller:
        monkeypatch.setenv("EMBERTRAY_CONFIG", str(controller.config))
        yield controller
        if (again := running(controller.socket)) is not None:
            os.kill(again.pid, signal.SIGTERM)


def said(capsys, *words: str) -> tuple[int, str, str]:
    code = main([*words])
    told = capsys.readouterr()
    return code, told.out, told.err


def open_a_plate(bench: ServedBench) -> None:
    client = bench.client()
    assert client.do("open-run", plate="Kvarnvik 3", routine="metol-hydroquinone")["message"] == "done"


def test_a_controller_is_said_to_run_with_its_process_and_what_is_open(bench: ServedBench, capsys):
    open_a_plate(bench)
    assert bench.process is not None
    code, out, _ = said(capsys, "status")
    assert code == 0
    assert f"runs on the configured bench (process {bench.process.pid})" in out
    assert "run 1: Kvarnvik 3" in out
    told = json.loads(said(capsys, "status", "--json")[1])
    assert (told["running"], told["pid"], told["managed"]) == (True, bench.process.pid, False)
    assert told["runs"][0]["plate"] == "Kvarnvik 3"


def test_it_is_not_stopped_while_a_plate_is_open_unless_told_twice(bench: ServedBench, capsys):
    open_a_plate(bench)
    assert bench.process is not None
    code, out, err = said(capsys, "stop")
    assert (code, out) == (1, "")
    assert "plate 'Kvarnvik 3' is open in tray 1" in err
    assert "--anyway" in err
    assert err.count("\n") == 1
    assert said(capsys, "restart")[0] == 1
    assert bench.process.poll() is None
    assert json.loads(said(capsys, "stop", "--anyway", "--json")[1])["stopped"] is True
    assert bench.process.wait(5.0) == 0
    assert bench.process.stderr is not None
    bench.process.stderr.close()


def test_a_restart_reads_the_settings_again_and_wrong_ones_end_nothing(bench: ServedBench, capsys):
    bench.client()
    assert bench.process is not None
    good = bench.config.read_text(encoding="utf-8")
    bench.config.write_text(good + "[no-such-table]\n", encoding="utf-8")
    assert said(capsys, "restart")[0] == 1
    assert bench.process.poll() is None
    bench.config.write_text(good.replace("[probe.developer]", "[probe.tray]"), encoding="utf-8")
    # As a process of its own: what it starts is to outlive it.
    done = subprocess.run(
        [sys.executable, "-m", "tui.cli", "restart"], capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, "")
    assert bench.process.wait(5.0) == 0
    assert bench.process.stderr is not None
    bench.process.stderr.close()
    again = running(bench.socket)
    assert again is not None
    assert again.pid != bench.process.pid
    assert f"runs again (process {again.pid})" in done.stdout
    assert [probe.name for probe in again.bench.probes] == ["tray"]
    assert said(capsys, "stop")[0] == 0
    assert running(bench.socket) is None


def test_where_none_runs_that_is_said_and_nothing_is_stopped(tmp_path: Path, capsys):
    nowhere = ("--socket", str(tmp_path / "bench.sock"))
    for command in ("status", "stop"):
        code, out, _ = said(capsys, command, *nowhere)
        assert (code, out) == (0, f"No controller runs at {tmp_path / 'bench.sock'}\n")
    assert json.loads(said(capsys, "status", *nowhere, "--json")[1])["running"] is False
    assert json.loads(said(capsys, "stop", *nowhere, "--json")[1])["stopped"] is False


def test_what_a_service_manager_runs_is_not_stopped_behind_its_back(bench: ServedBench, capsys, monkeypatch):
    bench.client()
    found = running(bench.socket)
    assert found is not None
    managed = Welcome(protocol=PROTOCOL, program=found.program, rehearsal=False, managed=True)
    monkeypatch.setattr("firmware_py.service.talk.Talk.greet", lambda self, _: _greeted(self, managed))
    code, _, err = said(capsys, "stop")
    assert code == 1
    assert "systemctl stop embertray" in err


def test_a_screen_that_is_left_says_that_its_controller_goes_on_and_how_it_is_ended(
    bench: ServedBench, capsys, monkeypatch
):
    bench.client()
    monkeypatch.setattr(session, "show", lambda *_, **__: 0)
    assert session.main(["--state", str(bench.state), "--socket", str(bench.socket), "--starts"]) == 0
    told = capsys.readouterr().out
    assert told == "The controller goes on without a screen: embertray status, embertray stop\n"


def _greeted(talk, managed: Welcome) -> Welcome:
    talk.send(Hello(protocol=PROTOCOL, client="test"))
    talk._wait_for(Welcome)
    return managed
