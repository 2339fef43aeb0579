"""A screen that lit the lamp and dies or freezes: the lamp goes out, and the half exposure is kept."""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

import firmware_py
from firmware_py.service.messages import BEAT_S
from tests.service.served_bench import CLOCK, LAMP, Plain, ServedBench, pause, served, wait_for
from tests.switchboard.pin_watch import spans

DARK_WITHIN_S = 1.1
BUSY_S = (
    1.0  # the suite shares its cores: what is asserted is that the lease works, not how fast this machine is
)


@pytest.fixture
def bench(tmp_path: Path):
    with served(tmp_path) as running:
        yield running


def is_lit(bench: ServedBench) -> bool:
    lit = spans(bench.pin_record, LAMP)
    return bool(lit) and lit[-1].off_s == float("inf")


def light(bench: ServedBench, client: Plain) -> None:
    client.do("open-print", negative="Skarn light", paper="contact paper")
    client.do("set-base", base_s=60.0)
    assert client.do("expose")["message"] == "done"
    wait_for(lambda: is_lit(bench))


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGSTOP])
def test_a_screen_killed_or_frozen_in_mid_exposure_puts_the_lamp_out(
    bench: ServedBench, number: signal.Signals
):
    watcher = bench.client()
    words = [sys.executable, "-m", "tests.service.small_screen", str(bench.socket)]
    environment = os.environ | {"PYTHONPATH": str(Path(firmware_py.__file__).parents[1])}
    with subprocess.Popen(words, stdout=subprocess.PIPE, env=environment) as screen:
        assert screen.stdout is not None
        screen.stdout.readline()
        pause(1.0)
        assert is_lit(bench), "a living screen keeps its exposure"
        struck_s = CLOCK.now_s()
        screen.send_signal(number)
        wait_for(lambda: not is_lit(bench))
        screen.kill()
    (span,) = spans(bench.pin_record, LAMP)
    assert span.off_s - struck_s < DARK_WITHIN_S + BUSY_S
    wait_for(lambda: watcher.look()["lamp"]["state"] == "dark")
    sheet = watcher.look()["print"]["sheet"]
    assert sheet["owed"] == "base"
    assert sheet["given_s"] == pytest.approx(span.off_s - span.on_s, abs=0.1)
    wait_for(lambda: watcher.do("expose")["message"] == "done")  # once the lamp's pause is over


def test_a_client_that_stops_beating_loses_its_exposure_and_one_that_never_beat_does_not(bench: ServedBench):
    client = bench.client()
    light(bench, client)
    pause(1.5)
    assert is_lit(bench)
    assert client.do("put-out")["message"] == "done"
    wait_for(lambda: client.look()["lamp"]["state"] == "dark")
    pause(0.6)
    client.send(json.dumps({"message": "beat"}).encode() + b"\n")
    assert client.do("expose")["message"] == "done"
    for _ in range(6):
        pause(BEAT_S)
        client.send(json.dumps({"message": "beat"}).encode() + b"\n")
    assert is_lit(bench)
    wait_for(lambda: not is_lit(bench))


def test_only_the_screen_that_lit_the_lamp_is_bound_to_it(bench: ServedBench):
    one, other = bench.client(), bench.client()
    light(bench, one)
    other.close()
    pause(0.5)
    assert is_lit(bench)
    one.close()
    wait_for(lambda: not is_lit(bench))


def test_a_stop_behind_other_acts_on_one_line_waits_for_none_of_their_answers(bench: ServedBench):
    client = bench.client()
    light(bench, client)
    acts = [{"act": "give-verdict", "verdict": "x"}] * 20 + [{"act": "stop-exposure"}]
    lines = [json.dumps({"message": "do", "ticket": n, "act": act}) for n, act in enumerate(acts, 100)]
    client.send("\n".join(lines).encode() + b"\n")
    wait_for(lambda: not is_lit(bench))
    assert {client.hear()["ticket"] for _ in acts} == {100 + n for n in range(len(acts))}
