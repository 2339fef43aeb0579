"""A screen that lit the lamp and dies or freezes: the lamp goes out, and the half exposure is kept."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator, Sequence
from contextlib import asynccontextmanager
from pathlib import Path

import pytest

from firmware_py.bench.bench import Bench, BenchPlan
from firmware_py.bench.controller import Controller
from firmware_py.bench.lamp.lamp_rule import PRINTING_LAMP, LampRule
from firmware_py.bench.open_devices import Devices
from firmware_py.devices.keyed_foot_switch import KeyedFootSwitch
from firmware_py.devices.silent_sounder import SilentSounder
from firmware_py.facts.acts.print import Expose, NotePrint, OpenPrint, ServeFoot, SetBase, StopExposure
from firmware_py.service.lease import Lease
from firmware_py.service.messages import BEAT_S
from firmware_py.switchboard.commands import RelayWiring
from firmware_py.switchboard.link import InProcessSwitchboard
from tests.service.served_bench import CLOCK, LAMP, Plain, ServedBench, pause, served, wait_for
from tests.switchboard.pin_watch import spans


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


class NoBook:
    """Takes every entry and keeps none."""

    def append(self, entries: Sequence[object]) -> None:
        pass

    def look_after(self) -> None:
        pass


@asynccontextmanager
async def a_controller(foot: KeyedFootSwitch) -> AsyncIterator[Controller]:
    """A controller in this process, a print with a long base time open, the foot at its lamp."""
    wiring = (RelayWiring(PRINTING_LAMP, LAMP, ceiling_s=600.0, continuous=False),)
    devices = Devices(InProcessSwitchboard(wiring, CLOCK), SilentSounder("s"), foot=foot)
    bench = Bench(BenchPlan({}, lamp=LampRule(pause_s=0.1)), CLOCK)
    controller = Controller(bench, CLOCK, devices, NoBook())
    running = asyncio.ensure_future(controller.run())
    await asyncio.sleep(0)
    for act in (
        OpenPrint(negative="Skarn light", paper="contact paper"),
        SetBase(base_s=60.0),
        ServeFoot(to="lamp"),
    ):
        await controller.do(act)
    yield controller
    controller.stop("test")
    await running


async def press(foot: KeyedFootSwitch) -> None:
    for down in (True, False):
        foot.move(down=down, at_s=CLOCK.now_s())
    await asyncio.sleep(0)  # the controller hears the foot through its loop


async def test_what_a_real_foot_has_lit_is_bound_to_no_screen():
    """A screen that lives does something meanwhile and goes: the exposure goes on until a foot ends it."""
    foot = KeyedFootSwitch("pedal")
    async with a_controller(foot) as controller:
        lease = Lease(controller)
        lease.beat()
        await press(foot)
        lit = controller.lit_for
        assert lit is not None
        controller.act(NotePrint(text="even so far"))
        lease.look(lit)
        lease.end()
        assert controller.lit_for == lit
        await press(foot)
        assert controller.lit_for is None


async def test_what_a_foot_lit_after_the_screen_had_lit_something_is_not_the_screens():
    """The screen's own exposure is over: its going means nothing to the next."""
    foot = KeyedFootSwitch("pedal")
    async with a_controller(foot) as controller:
        lease = Lease(controller)
        controller.act(Expose())
        lease.look(None)
        controller.act(StopExposure())
        await CLOCK.wait_until(CLOCK.now_s() + 0.15, asyncio.Event())  # the lamp's pause
        await press(foot)
        lit = controller.lit_for
        assert lit is not None
        lease.end()
        assert controller.lit_for == lit


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
