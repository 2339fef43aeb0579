"""The real switchboard process, killed and frozen in every way; judged by the record of its pins."""

import asyncio
import math
import os
import select
import signal
import subprocess
import sys

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock
from firmware_py.switchboard.process import ProcessSwitchboard
from firmware_py.switchboard.reports import (
    CommandRefused,
    ExposureBegan,
    ExposureEnded,
    RelaySwitched,
    Report,
    SwitchboardLost,
    SwitchboardReady,
)
from tests.switchboard.pin_watch import spans
from tests.switchboard.wiring import LAMP_PIN, SAFELIGHT_PIN, configure

# What the design promises: the lamp is off this long after whatever goes wrong.
DARK_WITHIN_S = 1.1


class Link:
    """A running switchboard process, its reports in the order heard, and its pins' record."""

    def __init__(self, record):
        self.record = record
        self.clock = BootClock()
        self.switchboard = ProcessSwitchboard(configure(record), self.clock)
        self.reports: asyncio.Queue[Report] = asyncio.Queue()
        self.switchboard.listen(self.reports.put_nowait)

    async def until(self, kind):
        """Return the next report of this kind; those before it are passed over."""
        async with asyncio.timeout(20):
            while True:
                report = await self.reports.get()
                if isinstance(report, kind):
                    return report

    async def light(self):
        self.switchboard.expose("a", "printing-lamp", for_s=None, ceiling_s=60.0)
        return await self.until(ExposureBegan)

    def lamp(self):
        return spans(self.record, LAMP_PIN)

    def safelight(self):
        return spans(self.record, SAFELIGHT_PIN, active_high=False)


@pytest.fixture
async def link(tmp_path):
    link = Link(tmp_path / "pins.txt")
    await link.switchboard.start()
    await link.until(SwitchboardReady)
    yield link
    await link.switchboard.aclose()


async def test_an_exposure_lasts_as_long_as_asked_and_is_reported_as_the_pin_saw_it(link):
    link.switchboard.expose("a", "printing-lamp", for_s=0.08, ceiling_s=600.0)
    assert link.switchboard.is_on("printing-lamp") is False
    began = await link.until(ExposureBegan)
    assert link.switchboard.is_on("printing-lamp")
    ended = await link.until(ExposureEnded)
    (span,) = link.lamp()
    assert ended.why == "time"
    assert ended.measured
    assert ended.on_s == began.at_s
    # The stamps are taken one after the other in the same process; a tenth covers a core taken away between.
    assert span.on_s == pytest.approx(ended.on_s, abs=0.1)
    assert span.off_s - span.on_s == pytest.approx(0.08, abs=0.1)
    assert span.off_s - span.on_s >= 0.0799


async def test_an_exposure_held_past_its_ceiling_ends_there(link):
    link.switchboard.expose("a", "printing-lamp", for_s=None, ceiling_s=0.15)
    ended = await link.until(ExposureEnded)
    assert ended.why == "ceiling"
    assert ended.lasted_s >= 0.15
    assert len(link.lamp()) == 1


async def test_an_active_low_relay_is_never_pulled_in_by_opening_or_closing(link):
    assert link.safelight() == []
    link.switchboard.switch("safelight", on=True)
    assert (await link.until(RelaySwitched)).on
    link.switchboard.switch("safelight", on=False)
    assert not (await link.until(RelaySwitched)).on
    await link.switchboard.aclose()
    assert len(link.safelight()) == 1


async def test_the_process_refuses_by_itself_what_the_moment_forbids(link):
    await link.light()
    link.switchboard.expose("b", "printing-lamp", for_s=1.0, ceiling_s=60.0)
    refused = await link.until(CommandRefused)
    assert refused.id == "b"
    link.switchboard.stop("a")
    assert (await link.until(ExposureEnded)).why == "stopped"


async def test_closing_darkens_the_lamp_and_reports_the_exposure(link):
    await link.light()
    await link.switchboard.aclose()
    assert link.switchboard.guardian_pid is None
    assert (await link.until(ExposureEnded)).why == "made safe"
    assert math.isfinite(link.lamp()[-1].off_s)
    assert not link.switchboard.is_ready
    with pytest.raises(Refused, match="not running"):
        link.switchboard.expose("b", "printing-lamp", for_s=1.0, ceiling_s=60.0)
    link.switchboard.all_safe()
    link.switchboard.stop("a")


async def test_a_killed_switchboard_is_cleared_up_and_replaced(link):
    link.switchboard.switch("safelight", on=True)
    await link.light()
    first = link.switchboard.pid
    killed_s = link.clock.now_s()
    os.kill(first, signal.SIGKILL)
    ended = await link.until(ExposureEnded)
    assert not link.switchboard.is_on("printing-lamp")
    switched = await link.until(RelaySwitched)
    lost = await link.until(SwitchboardLost)
    (span,) = link.lamp()
    assert span.off_s - killed_s < DARK_WITHIN_S
    assert ended.why == "switchboard lost"
    assert not ended.measured
    assert abs(ended.off_s - span.off_s) <= ended.doubt_s
    assert switched == RelaySwitched("safelight", False, switched.at_s, "switchboard lost")
    assert lost.made_safe
    assert "died" in lost.why
    await link.until(SwitchboardReady)
    assert link.switchboard.pid not in {None, first}
    assert len(link.lamp()) == len(link.safelight()) == 1
    await link.light()
    link.switchboard.stop("a")
    assert (await link.until(ExposureEnded)).measured


async def test_a_frozen_switchboard_is_killed_and_its_lines_cleared(link):
    await link.light()
    stood_by = link.switchboard.guardian_pid
    assert stood_by is not None
    frozen_s = link.clock.now_s()
    os.kill(link.switchboard.pid, signal.SIGSTOP)
    ended = await link.until(ExposureEnded)
    lost = await link.until(SwitchboardLost)
    (span,) = link.lamp()
    assert span.off_s - frozen_s < DARK_WITHIN_S
    assert abs(ended.off_s - span.off_s) <= ended.doubt_s
    assert not ended.measured
    assert "frozen" in lost.why
    await link.until(SwitchboardReady)
    async with asyncio.timeout(20):
        while link.switchboard.guardian_pid in {None, stood_by}:
            await link.clock.wait_until(link.clock.now_s() + 0.005, asyncio.Event())


async def test_the_relays_are_not_held_from_a_freeze_until_the_lines_are_cleared(
    link,
):
    await link.light()
    assert link.switchboard.is_held()
    os.kill(link.switchboard.pid, signal.SIGSTOP)
    async with asyncio.timeout(10):
        while link.switchboard.is_held():
            await link.clock.wait_until(link.clock.now_s() + 0.005, asyncio.Event())
    (lit,) = link.lamp()
    assert math.isinf(lit.off_s), "it was given up before its lines were driven safe"
    lost = await link.until(SwitchboardLost)
    assert lost.made_safe
    assert link.switchboard.is_held()
    assert math.isfinite(link.lamp()[0].off_s)


async def test_a_switchboard_told_to_end_darkens_the_lamp_first_and_measures_it(link):
    await link.light()
    os.kill(link.switchboard.pid, signal.SIGTERM)
    ended = await link.until(ExposureEnded)
    assert ended.why == "made safe"
    assert ended.measured
    assert "SIGTERM" in (await link.until(SwitchboardLost)).why


async def test_a_failing_listener_does_not_end_the_watch(link):
    problems = []
    asyncio.get_running_loop().set_exception_handler(lambda _, context: problems.append(context))
    link.switchboard.listen(lambda report: 1 / 0)
    await link.light()
    link.switchboard.stop("a")
    await link.until(ExposureEnded)
    assert len(problems) == 2


async def test_a_switchboard_that_can_not_open_its_pins_is_refused_at_start():
    switchboard = ProcessSwitchboard(configure(None, pins="wax"), BootClock())
    with pytest.raises(Refused, match="does not start: pins by 'wax'"):
        await switchboard.start()


async def test_too_many_losses_end_the_restarts(link):
    for _ in range(4):
        os.kill(link.switchboard.pid, signal.SIGKILL)
        assert not (await link.until(SwitchboardLost)).final
        await link.until(SwitchboardReady)
    os.kill(link.switchboard.pid, signal.SIGKILL)
    assert (await link.until(SwitchboardLost)).final
    assert not link.switchboard.is_ready


# --- the controller dies ---


def wait_until_gone(descriptor):
    """Wait for the process of a pidfd to end; say whether it did."""
    poll = select.poll()
    poll.register(descriptor, select.POLLIN)
    ended = poll.poll(10_000)
    os.close(descriptor)
    return bool(ended)


@pytest.fixture
def parent(tmp_path):
    """Yield a small real controller that holds the lamp on."""
    words = [sys.executable, "-m", "tests.switchboard.parent", str(tmp_path / "pins.txt")]
    with subprocess.Popen(words, stdout=subprocess.PIPE) as process:
        yield process
        process.kill()


@pytest.mark.parametrize("number", [signal.SIGKILL, signal.SIGSTOP])
def test_the_lamp_goes_off_when_the_controller_is_killed_or_frozen(parent, tmp_path, number):
    switchboard = os.pidfd_open(int(parent.stdout.readline().split()[0]))
    lit = spans(tmp_path / "pins.txt", LAMP_PIN)
    assert [math.isinf(span.off_s) for span in lit] == [True]
    struck_s = BootClock().now_s()
    parent.send_signal(number)
    assert wait_until_gone(switchboard), "the switchboard outlived its controller"
    (lamp,) = spans(tmp_path / "pins.txt", LAMP_PIN)
    (safelight,) = spans(tmp_path / "pins.txt", SAFELIGHT_PIN, active_high=False)
    assert lamp.off_s - struck_s < DARK_WITHIN_S
    assert safelight.off_s - struck_s < DARK_WITHIN_S
