"""What the link guesses about relays that nobody reports on any more: never less sure than it says."""

from hypothesis import given
from hypothesis import strategies as st

from firmware_py.switchboard.commands import Expose
from firmware_py.switchboard.ledger import Ledger
from firmware_py.switchboard.reports import (
    CommandRefused,
    ExposureBegan,
    ExposureEnded,
    RelaySwitched,
)

EXPOSE = Expose("a", "lamp", 8.0, 60.0)
spans_s = st.floats(0.0, 30.0)


@given(spans_s, spans_s, spans_s, st.floats(0.0, 1.0))
def test_the_true_off_instant_lies_within_the_doubt(lit_s, heard_s, clearing_s, share):
    ledger = Ledger()
    ledger.ask(EXPOSE, 100.0)
    ledger.note(ExposureBegan("a", "lamp", 100.0 + lit_s))
    lit_until_s = 100.0 + heard_s
    dark_from_s = max(100.0 + lit_s, lit_until_s) + clearing_s
    (ended,) = ledger.lose(lit_until_s, dark_from_s)
    assert isinstance(ended, ExposureEnded)
    truth_s = max(100.0 + lit_s, lit_until_s) + share * clearing_s
    assert abs(ended.off_s - truth_s) <= ended.doubt_s + 1e-9
    assert not ended.measured
    assert ended.lasted_s >= 0


def test_an_exposure_that_never_reported_its_beginning_may_have_lasted_from_the_asking_or_not_at_all():
    ledger = Ledger()
    ledger.ask(EXPOSE, 100.0)
    assert not ledger.is_on("lamp")
    assert ledger.lose(100.2, 101.0) == [ExposureEnded("a", "lamp", 100.0, 100.5, "switchboard lost", 0.5)]


def test_what_ended_or_was_refused_is_not_mourned():
    ledger = Ledger()
    ledger.ask(EXPOSE, 100.0)
    ledger.note(ExposureBegan("a", "lamp", 100.1))
    ledger.note(ExposureEnded("a", "lamp", 100.1, 108.1, "time"))
    ledger.ask(Expose("b", "lamp", 8.0, 60.0), 109.0)
    ledger.note(CommandRefused("busy", "b"))
    ledger.note(RelaySwitched("safelight", True, 1.0))
    ledger.note(RelaySwitched("safelight", False, 2.0))
    assert ledger.lose(110.0, 111.0) == []


def test_a_second_asking_that_is_refused_leaves_the_first_exposure_open():
    ledger = Ledger()
    ledger.ask(EXPOSE, 100.0)
    ledger.note(ExposureBegan("a", "lamp", 100.1))
    ledger.ask(EXPOSE, 101.0)
    ledger.note(CommandRefused("going on already", "a"))
    assert ledger.is_on("lamp")
    assert ledger.lose(102.0, 103.0) == [ExposureEnded("a", "lamp", 100.1, 102.5, "switchboard lost", 0.5)]


def test_a_relay_switched_for_good_is_reported_off_from_when_it_was_certain():
    ledger = Ledger()
    ledger.note(RelaySwitched("safelight", True, 1.0))
    assert ledger.is_on("safelight")
    assert ledger.lose(5.0, 6.0) == [RelaySwitched("safelight", False, 6.0, "switchboard lost")]
    assert not ledger.is_on("safelight")
