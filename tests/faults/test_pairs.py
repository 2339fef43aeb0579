"""Any one, and any two, of controller, switchboard and guardian killed or frozen: every line goes off."""

import pytest

from tests.faults.pairs import DARK_WITHIN_S, Blow, alone, dark_after_s, lit_bench, pairs, singles
from tests.faults.stage.moments import now_s
from tests.faults.stage.stall import StallMeter

# In the other order the second blow finds what the first left, some microseconds older: by hand.
ONE_ORDER = [case for case in pairs() if [blow.process for blow in case] == sorted(b.process for b in case)]


@pytest.fixture
def stall():
    stall = StallMeter()
    yield stall
    stall.close()


@pytest.mark.parametrize(
    "case",
    [case for case in singles() if not alone(case)] + ONE_ORDER,
    ids=lambda case: ", ".join(map(str, case)),
)
def test_every_line_is_off_in_time_without_a_service_manager(case, stall):
    began_s = now_s()
    seconds = dark_after_s(case)
    assert seconds <= DARK_WITHIN_S + stall.within(began_s, now_s())


def test_a_line_that_stays_lit_is_seen_to():
    """Nothing acts where only the guardian is gone: the look from outside finds the line still active."""
    with lit_bench() as bench:
        bench.strike((Blow("guardian", "killed"),))
        assert bench.active_until_s() == float("inf")
