"""The gate's signs of life reach the screen, and stop when the gate does."""

from __future__ import annotations

import asyncio
import os

import pytest

from tests.tui.gate.test_gate import gate
from tui.gate.beats import EVERY_S, VARIABLE, Beats
from tui.pulse import gate_pulse

# Says what came by the pipe in each second, and that nothing it starts inherits the pipe's end.
HEARS = f"""
import os, select, sys
line = int(os.environ[{VARIABLE!r}])
came = 0
while came < 5:
    select.select([line], [], [], 5.0)
    came += len(os.read(line, 100))
print("alive", flush=True)
sys.stdin.readline()
"""


async def within_s(pulse, seconds):
    """Return whether a sign of life came in that time."""
    try:
        await asyncio.wait_for(pulse(), seconds)
    except TimeoutError:
        return False
    return True


@pytest.fixture
def beats():
    beats = Beats()
    yield beats
    beats.close()


async def test_each_sign_of_life_is_waited_for_and_many_at_once_count_as_one(beats):
    pulse = gate_pulse({VARIABLE: str(beats.reading)})
    assert pulse is not None
    beats.beat()
    beats.beat()
    assert await within_s(pulse, 10.0)
    assert not await within_s(pulse, 0.0)
    beats.beat()
    assert await within_s(pulse, 10.0)


async def test_a_gate_that_has_gone_never_shows_life_again():
    beats = Beats()
    line = os.dup(beats.reading)
    pulse = gate_pulse({VARIABLE: str(line)})
    assert pulse is not None
    beats.close()
    waiting = asyncio.ensure_future(pulse())
    for _ in range(5):
        await asyncio.sleep(0)
    assert not waiting.done()
    waiting.cancel()
    os.close(line)


@pytest.mark.parametrize("named", ["", "x", "-1", "987654"])
def test_behind_no_gate_there_is_nothing_to_wait_for(named):
    assert gate_pulse({VARIABLE: named}) is None


def test_a_gate_shows_life_by_itself_as_often_as_a_screen_must():
    from firmware_py.service.messages import BEAT_S

    assert EVERY_S <= BEAT_S
    with gate(HEARS) as session:
        session.until_shown("alive")
        session.press("\r")


def test_a_program_that_reads_no_beats_does_not_hold_up_the_gate(beats):
    for _ in range(100_000):
        beats.beat()
