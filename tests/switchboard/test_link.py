"""The link's body for rehearsals: exact on any clock, and never calling back from inside a call."""

import math

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import SimulatedClock
from firmware_py.switchboard.commands import RelayWiring
from firmware_py.switchboard.link import InProcessSwitchboard
from firmware_py.switchboard.reports import (
    CommandRefused,
    ExposureBegan,
    ExposureEnded,
    Leaving,
    RelaySwitched,
    Report,
    SwitchboardLost,
    SwitchboardReady,
)

RELAYS = (
    RelayWiring("printing-lamp", 17, ceiling_s=600.0, continuous=False),
    RelayWiring("safelight", 22),
)


class Rehearsal:
    def __init__(self):
        self.clock = SimulatedClock()
        self.switchboard = InProcessSwitchboard(RELAYS, self.clock)
        self.heard: list[Report] = []
        self.switchboard.listen(self.heard.append)
        self.advance()
        assert self.reports() == [SwitchboardReady("simulated", realtime=False, locked=False)]

    def advance(self, by_s=0.0):
        self.clock.jump_to(self.clock.now_s() + by_s)
        self.switchboard.advance(self.clock.now_s())

    def reports(self):
        heard = list(self.heard)
        self.heard.clear()
        return heard


@pytest.fixture
def rehearsal():
    return Rehearsal()


def test_reports_come_with_the_next_advance_not_from_inside_the_call(rehearsal):
    rehearsal.switchboard.switch("safelight", on=True)
    assert rehearsal.reports() == []
    assert rehearsal.switchboard.next_due_s() == rehearsal.clock.now_s()
    rehearsal.advance()
    assert rehearsal.reports() == [RelaySwitched("safelight", True, 1000.0)]
    assert rehearsal.switchboard.next_due_s() == math.inf


def test_an_exposure_is_exact_however_late_the_bench_looks(rehearsal):
    rehearsal.switchboard.expose("a", "printing-lamp", for_s=8.0, ceiling_s=600.0)
    rehearsal.advance()
    assert rehearsal.switchboard.next_due_s() == 1008.0
    rehearsal.advance(by_s=50.0)
    assert rehearsal.reports() == [
        ExposureBegan("a", "printing-lamp", 1000.0),
        ExposureEnded("a", "printing-lamp", 1000.0, 1008.0, "time"),
    ]


def test_a_command_after_a_missed_deadline_finds_the_exposure_ended_in_time(rehearsal):
    rehearsal.switchboard.expose("a", "printing-lamp", for_s=8.0, ceiling_s=600.0)
    rehearsal.clock.jump_to(1020.0)
    rehearsal.switchboard.expose("b", "printing-lamp", for_s=1.0, ceiling_s=600.0)
    rehearsal.advance()
    assert rehearsal.reports() == [
        ExposureBegan("a", "printing-lamp", 1000.0),
        ExposureEnded("a", "printing-lamp", 1000.0, 1008.0, "time"),
        ExposureBegan("b", "printing-lamp", 1020.0),
    ]


def test_what_is_never_allowed_is_refused_at_once(rehearsal):
    with pytest.raises(Refused, match="without a ceiling"):
        rehearsal.switchboard.expose("a", "printing-lamp", for_s=8.0, ceiling_s=None)
    with pytest.raises(Refused, match="warm-up mode"):
        rehearsal.switchboard.switch("printing-lamp", on=True)


def test_what_the_moment_forbids_is_reported(rehearsal):
    rehearsal.switchboard.expose("a", "printing-lamp", for_s=8.0, ceiling_s=600.0)
    rehearsal.switchboard.expose("b", "printing-lamp", for_s=8.0, ceiling_s=600.0)
    rehearsal.advance()
    _began, refused = rehearsal.reports()
    assert isinstance(refused, CommandRefused)
    assert refused.id == "b"


def test_a_lost_switchboard_darkens_everything_and_comes_back(rehearsal):
    rehearsal.switchboard.switch("safelight", on=True)
    rehearsal.switchboard.expose("a", "printing-lamp", for_s=8.0, ceiling_s=600.0)
    rehearsal.advance(by_s=3.0)
    rehearsal.reports()
    rehearsal.switchboard.lose("played by the script")
    rehearsal.advance()
    assert rehearsal.reports() == [
        ExposureEnded("a", "printing-lamp", 1000.0, 1003.0, "switchboard lost", 0.05),
        RelaySwitched("safelight", False, 1003.0, "switchboard lost"),
        SwitchboardLost("played by the script"),
        SwitchboardReady("simulated", realtime=False, locked=False),
    ]
    assert rehearsal.switchboard.is_ready


async def test_after_closing_nothing_can_be_energised_and_releasing_still_does_no_harm(rehearsal):
    rehearsal.switchboard.switch("safelight", on=True)
    await rehearsal.switchboard.aclose()
    assert rehearsal.reports()[-2:] == [
        RelaySwitched("safelight", False, 1000.0, "made safe"),
        Leaving("asked to leave"),
    ]
    rehearsal.switchboard.all_safe()
    rehearsal.switchboard.stop("a")
    assert not rehearsal.switchboard.is_ready
    with pytest.raises(Refused, match="has ended"):
        rehearsal.switchboard.switch("safelight", on=True)
