"""Interlock 3: no exposure without a ceiling."""

from __future__ import annotations

import pytest

from firmware_py.bench.effects import Expose
from firmware_py.bench.interlocks.ceiling import MARGIN_S, WORD_WITHIN_S, CeilingWatch, ceiling_for
from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts import print as pa
from firmware_py.facts.events import print as pe
from tests.bench.lamp_at_hand import LampAtHand


def test_every_exposure_asked_for_has_a_ceiling_the_lamp_may_reach():
    """A timed one a little above its time, one by foot at its own, never above the relay's."""
    assert ceiling_for(8.0, 600.0) == 9.0
    assert ceiling_for(599.9, 600.0) == 600.0
    assert ceiling_for(600.0, 600.0) == 600.0
    assert ceiling_for(None, 120.0) == 120.0


def test_an_exposure_longer_than_the_lamp_may_be_on_is_refused():
    """With what would help."""
    at = LampAtHand(longest_on_s=60.0)
    at.open_print()
    at.do(pa.SetBase(base_s=70.0))
    with pytest.raises(
        Refused, match=r"^interlock 3: the lamp .* on for 70\.. s; allowed: up to 60 s .* nearer"
    ):
        at.do(pa.Expose())
    assert not any(isinstance(e, pe.ExposureAnnounced) for e in at.events())


def test_a_lamp_of_whose_end_no_word_comes_is_stopped_once_more_and_said():
    """The switchboard ends it by itself; that it did is not taken on trust."""
    at = LampAtHand()
    at.open_print()
    at.do(pa.SetBase(base_s=4.0))
    at.do(pa.Expose())
    record = at.record
    # The switchboard falls silent: its word of the end is kept from the bench.
    at.switchboard._listeners.clear()
    at.clock.jump_to(at.clock.now_s() + 4.05 + MARGIN_S + WORD_WITHIN_S + 0.1)
    due_s = at.printing.next_due_s()
    assert due_s is not None
    assert due_s <= at.clock.now_s()
    at.bench.advance()
    effects = at.bench.take_effects()
    assert not any(isinstance(e, Expose) for e in effects)
    assert record.state == "lit"
    assert any("look at it" in n.words for n in at.bench.notices.all())
    assert at.printing.next_due_s() is None


def test_the_watch_speaks_once_for_each_exposure():
    """And not at all where the word came."""
    watch = CeilingWatch()
    watch.expect("a", 100.0, 5.0)
    assert watch.overdue(105.99) is None
    assert watch.overdue(106.0) == "a"
    assert watch.overdue(200.0) is None
    watch.expect("b", 200.0, 5.0)
    watch.settled()
    assert watch.overdue(300.0) is None
