"""What the controller logs: starts, steps, troubles; no plate's name, nothing that waits."""

from __future__ import annotations

import logging
import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import run as acts
from firmware_py.service.logs import LEVEL, MOST_WAITING, logging_to_stderr
from tests.bench.bench_at_hand import BenchAtHand


@contextmanager
def logged(level: int = logging.INFO) -> Iterator[list[str]]:
    lines: list[str] = []

    class Kept(logging.Handler):
        def emit(self, record: logging.LogRecord) -> None:
            lines.append(record.getMessage())

    root, handler = logging.getLogger("embertray"), Kept()
    before = root.level
    root.setLevel(level)
    root.addHandler(handler)
    try:
        yield lines
    finally:
        root.removeHandler(handler)
        root.setLevel(before)


def test_the_steps_of_a_run_are_logged_without_the_name_of_its_plate():
    with logged() as lines:
        bench = BenchAtHand()
        bench.do(acts.OpenRun(plate="Grey harbour", routine="plain"))
        bench.do(acts.Proceed())
        bench.bench.trouble("relay", "the relay of plate Grey harbour sticks")
    assert any("started: " in line for line in lines)
    assert any("RunOpened" in line for line in lines)
    assert any("StepStarted step 1" in line for line in lines)
    assert "trouble: relay" in lines
    assert not any("Grey" in line for line in lines)


def test_a_reader_that_is_stuck_costs_lines_not_time():
    """stderr is a pipe that nobody reads: ten times what it holds is logged, and the process still ends."""
    code = (
        "import logging\n"
        "from firmware_py.service.logs import _Leaky\n"
        "import queue\n"
        f"handler = _Leaky(queue.Queue({MOST_WAITING}))\n"
        "log = logging.getLogger('embertray.bench'); log.setLevel(20); log.addHandler(handler)\n"
        "[log.info('x' * 200) for _ in range(20_000)]\n"
        "print(handler.queue.qsize())\n"
    )
    ended = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=50
    )
    assert (ended.stdout.strip(), ended.stderr) == (str(MOST_WAITING), "")


def test_an_unknown_level_is_refused(monkeypatch):
    monkeypatch.setitem(os.environ, LEVEL, "loud")
    with (
        pytest.raises(Refused, match=r"EMBERTRAY_LOG.*loud.*debug, info"),
        logging_to_stderr(),
    ):
        pass


def test_lines_go_to_stderr_with_level_and_room(monkeypatch, capsys):
    monkeypatch.delitem(os.environ, LEVEL, raising=False)
    with logging_to_stderr():
        logging.getLogger("embertray.bench").info("relay safelight on")
        logging.getLogger("embertray.bench").debug("not shown")
    assert capsys.readouterr().err == "INFO embertray.bench: relay safelight on\n"
