"""The lead follows the usual delay of a throw, and nothing else."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.switchboard.lead import LONGEST_S, STEP_S, Lead


@given(st.floats(0.0, LONGEST_S))
def test_a_steady_delay_is_met_exactly_after_some_throws(delay_s):
    lead = Lead()
    for _ in range(25):
        lead.learn(delay_s - lead.seconds)
    assert lead.seconds == pytest.approx(delay_s, abs=1e-9)


@given(st.floats(0.0, 0.0005), st.floats(-10.0, 10.0))
def test_one_wild_error_moves_it_by_no_more_than_a_step(delay_s, wild_s):
    lead = Lead()
    lead.seconds = delay_s
    lead.learn(wild_s)
    assert abs(lead.seconds - delay_s) <= STEP_S + 1e-12
    lead.learn(delay_s - lead.seconds)
    assert lead.seconds == pytest.approx(delay_s, abs=1e-9)


@given(st.lists(st.floats(-1.0, 1.0), max_size=60))
def test_it_never_starts_a_throw_after_the_deadline_or_long_before(lates_s):
    lead = Lead()
    for late_s in lates_s:
        lead.learn(late_s)
        assert 0.0 <= lead.seconds <= LONGEST_S
