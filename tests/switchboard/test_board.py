"""The board's rules, by example and by thousands of random sessions."""

import math

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, precondition, rule

from firmware_py.craft.refusal import Refused
from firmware_py.switchboard.board import Board
from firmware_py.switchboard.commands import (
    Beat,
    Configure,
    Expose,
    Leave,
    MakeSafe,
    RelayWiring,
    Stop,
    Switch,
)
from firmware_py.switchboard.reports import (
    Alive,
    CommandRefused,
    ExposureBegan,
    ExposureEnded,
    Leaving,
    RelaySwitched,
)

LAMP = RelayWiring("printing-lamp", 17, ceiling_s=600.0, continuous=False)
SAFELIGHT = RelayWiring("safelight", 22)
HEATER = RelayWiring("heater", 23, stay_limit_s=60.0)


class Bench:
    """A board with relays that move at the moment the test has set."""

    def __init__(self, *, silence_s=None):
        self.now_s = 100.0
        self.thrown = []
        self.board = Board((LAMP, SAFELIGHT, HEATER), throw=self.throw, now_s=self.now_s, silence_s=silence_s)

    def throw(self, relay, *, on):
        self.thrown.append((relay, on))
        return self.now_s

    def at(self, now_s):
        self.now_s = now_s
        return self.board.advance(now_s)

    def take(self, command):
        return self.board.take(command, self.now_s)


@pytest.fixture
def bench():
    return Bench()


def test_an_exposure_goes_off_at_its_time_and_reports_both_instants(bench):
    assert bench.take(Expose("a", "printing-lamp", 8.0, 600.0)) == [
        ExposureBegan("a", "printing-lamp", 100.0)
    ]
    assert bench.board.next_due_s() == 108.0
    assert bench.at(107.999) == []
    assert bench.at(108.0) == [ExposureEnded("a", "printing-lamp", 100.0, 108.0, "time")]
    assert bench.thrown == [("printing-lamp", True), ("printing-lamp", False)]
    assert bench.board.next_due_s() == math.inf


def test_an_exposure_held_by_the_foot_ends_when_stopped(bench):
    bench.take(Expose("a", "printing-lamp", None, 600.0))
    bench.at(103.5)
    (ended,) = bench.take(Stop("a"))
    assert ended == ExposureEnded("a", "printing-lamp", 100.0, 103.5, "stopped")
    assert ended.lasted_s == 3.5
    assert ended.measured


def test_an_exposure_held_too_long_ends_at_its_ceiling(bench):
    bench.take(Expose("a", "printing-lamp", None, 30.0))
    assert bench.at(130.0) == [ExposureEnded("a", "printing-lamp", 100.0, 130.0, "ceiling")]


@pytest.mark.parametrize(
    ("command", "word"),
    [
        (Expose("a", "printing-lamp", 8.0, None), "without a ceiling"),
        (Expose("a", "printing-lamp", 8.0, 601.0), "up to 600 s"),
        (Expose("a", "printing-lamp", 8.0, math.inf), "up to 600 s"),
        (Expose("a", "printing-lamp", 8.0, math.nan), "up to 600 s"),
        (Expose("a", "printing-lamp", 31.0, 30.0), "its ceiling of 30 s"),
        (Expose("a", "printing-lamp", 0.0, 30.0), "more than 0"),
        (Expose("a", "printing-lamp", math.nan, 30.0), "more than 0"),
        (Expose("a", "safelight", 8.0, 30.0), "makes no exposures"),
        (Expose("a", "lantern", 8.0, 30.0), "no relay is called 'lantern'"),
        (Switch("printing-lamp", True), "warm-up mode"),
        (Switch("lantern", True), "no relay is called 'lantern'"),
    ],
)
def test_what_is_not_allowed_is_refused_and_nothing_moves(bench, command, word):
    (refused,) = bench.take(command)
    assert isinstance(refused, CommandRefused)
    assert word in refused.words
    assert bench.thrown == []


def test_a_relay_makes_one_exposure_at_a_time(bench):
    bench.take(Expose("a", "printing-lamp", 8.0, 600.0))
    (refused,) = bench.take(Expose("b", "printing-lamp", 8.0, 600.0))
    assert refused.id == "b"
    assert "one at a time" in refused.words


def test_a_stop_that_comes_too_late_changes_nothing(bench):
    bench.take(Expose("a", "printing-lamp", 8.0, 600.0))
    bench.at(108.0)
    assert bench.take(Stop("a")) == []


def test_switching_off_is_always_obeyed_even_in_an_exposure(bench):
    bench.take(Expose("a", "printing-lamp", 8.0, 600.0))
    assert bench.take(Switch("printing-lamp", False)) == [
        ExposureEnded("a", "printing-lamp", 100.0, 100.0, "stopped")
    ]
    assert bench.take(Switch("printing-lamp", False)) == []


def test_a_relay_asked_for_again_stays_on_and_one_forgotten_goes_off(bench):
    bench.take(Switch("heater", True))
    bench.at(150.0)
    assert bench.take(Switch("heater", True)) == []
    assert bench.at(160.0) == []
    assert bench.at(210.0) == [RelaySwitched("heater", False, 210.0, "limit")]


def test_a_relay_without_a_limit_stays_on(bench):
    assert bench.take(Switch("safelight", True)) == [RelaySwitched("safelight", True, 100.0)]
    assert bench.at(1e9) == []
    assert bench.board.is_on("safelight")


def test_make_safe_releases_everything(bench):
    bench.take(Switch("safelight", True))
    bench.take(Expose("a", "printing-lamp", 8.0, 600.0))
    bench.at(101.0)
    assert bench.take(MakeSafe()) == [
        ExposureEnded("a", "printing-lamp", 100.0, 101.0, "made safe"),
        RelaySwitched("safelight", False, 101.0, "made safe"),
    ]
    assert bench.board.next_due_s() == math.inf


def test_a_board_that_is_to_end_releases_all_energises_nothing_and_leaves_at_its_hour(bench):
    bench.take(Expose("a", "printing-lamp", None, 600.0))
    assert bench.board.end_soon("told to", 102.0) == [
        ExposureEnded("a", "printing-lamp", 100.0, 100.0, "made safe")
    ]
    for command in (Switch("safelight", True), Expose("b", "printing-lamp", 1.0, 600.0)):
        (refused,) = bench.take(command)
        assert "told to" in refused.words
    assert bench.take(Switch("safelight", False)) == []
    assert bench.board.end_soon("told again", 200.0) == []
    assert bench.board.next_due_s() == 102.0
    assert bench.at(101.9) == []
    assert bench.at(102.0) == [Leaving("told to")]


@pytest.mark.parametrize("command", [Leave(), Configure((), "mock")])
def test_leaving_releases_everything_and_hears_nothing_more(bench, command):
    bench.take(Switch("safelight", True))
    reports = bench.take(command)
    assert isinstance(reports[-1], Leaving)
    assert not bench.board.is_on("safelight")
    assert bench.take(Switch("safelight", True)) == []
    assert bench.board.left


def test_a_second_of_silence_releases_everything():
    bench = Bench(silence_s=1.0)
    bench.take(Expose("a", "printing-lamp", 8.0, 600.0))
    bench.at(100.9)
    assert bench.take(Beat(7)) == [Alive(7)]
    assert bench.board.next_due_s() == 101.9
    ended, leaving = bench.at(101.9)
    assert ended == ExposureEnded("a", "printing-lamp", 100.0, 101.9, "made safe")
    assert leaving == Leaving("nothing heard from the controller for 1 s")


def test_a_command_that_comes_after_the_silence_is_not_obeyed():
    bench = Bench(silence_s=1.0)
    bench.now_s = 101.5
    assert bench.take(Switch("safelight", True)) == [Leaving("nothing heard from the controller for 1 s")]
    assert bench.thrown == []


@pytest.mark.parametrize(
    ("relays", "word"),
    [
        ((LAMP, RelayWiring("printing-lamp", 5)), "two relays are called"),
        ((LAMP, RelayWiring("fan", 17)), "on the pin of 'printing-lamp'"),
        ((RelayWiring("fan", 28),), "BCM numbers"),
        ((RelayWiring("", 2),), "1 to 80 characters"),
        ((RelayWiring("fan", 2, ceiling_s=math.inf),), "finite"),
        ((RelayWiring("fan", 2, stay_limit_s=0.0),), "more than 0 s"),
    ],
)
def test_a_wrong_wiring_is_refused(relays, word):
    with pytest.raises(Refused, match=word):
        Board(relays, throw=Bench().throw, now_s=0.0, silence_s=None)


SPANS_S = st.one_of(st.none(), st.floats(-1.0, 700.0), st.just(math.nan))


class AnySession(RuleBasedStateMachine):
    """Any order of commands, times and delays: no relay is ever on without a reason, nor past its limit."""

    def __init__(self):
        super().__init__()
        self.bench = Bench(silence_s=30.0)
        self.on_since = {}
        self.asked_s = {}
        self.spans = []

    def heard(self, reports):
        for report in reports:
            match report:
                case ExposureBegan(id=exposure):
                    self.spans.append(exposure)
                case ExposureEnded(id=exposure, on_s=on_s, off_s=off_s):
                    self.spans.remove(exposure)
                    assert on_s <= off_s

    def watch_relays(self):
        for relay, on in self.bench.thrown:
            assert on != (relay in self.on_since), "a relay was thrown to where it was"
            if on:
                self.on_since[relay] = self.bench.now_s
            else:
                del self.on_since[relay]
        self.bench.thrown.clear()

    @rule(step_s=st.floats(0.0, 40.0))
    def time_passes(self, step_s):
        now_s = self.bench.now_s + step_s
        self.heard(self.bench.at(now_s))
        assert self.bench.board.next_due_s() > now_s

    @rule(
        name=st.sampled_from("abc"),
        for_s=SPANS_S,
        ceiling_s=SPANS_S,
        relay=st.sampled_from([LAMP, SAFELIGHT]),
    )
    def expose(self, name, for_s, ceiling_s, relay):
        self.heard(self.bench.take(Expose(name, relay.name, for_s, ceiling_s)))

    @rule(relay=st.sampled_from([LAMP, SAFELIGHT, HEATER]), on=st.booleans())
    def switch(self, relay, on):
        self.asked_s[relay.name] = self.bench.now_s
        self.heard(self.bench.take(Switch(relay.name, on)))

    @rule(name=st.sampled_from("abc"))
    def stop(self, name):
        self.heard(self.bench.take(Stop(name)))
        assert name not in self.spans

    @rule()
    def beat(self):
        self.heard(self.bench.take(Beat(1)))

    @rule()
    def make_safe(self):
        self.heard(self.bench.take(MakeSafe()))
        self.watch_relays()
        assert self.on_since == {}

    @precondition(lambda self: self.bench.board.left)
    @rule()
    def after_leaving_all_is_dark(self):
        self.watch_relays()
        assert self.on_since == {}

    @invariant()
    def no_relay_is_on_past_its_limit(self):
        self.watch_relays()
        now_s = self.bench.now_s
        for relay, since_s in self.on_since.items():
            if relay == LAMP.name:
                assert now_s < since_s + 600.0
            if relay == HEATER.name:
                assert now_s < self.asked_s[relay] + 60.0
            assert self.bench.board.is_on(relay)

    @invariant()
    def the_lamp_is_on_exactly_while_an_exposure_is_open(self):
        assert (LAMP.name in self.on_since) == bool(self.spans)


TestAnySession = AnySession.TestCase
TestAnySession.settings = settings(max_examples=60, stateful_step_count=40, deadline=None)
