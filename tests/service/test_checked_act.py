"""A value that the bench would not take is refused at the screen, in plain words."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.bath import MakeBath
from firmware_py.facts.acts.run import Note
from firmware_py.service.checked_act import checked


def test_a_volume_too_small_is_refused_with_what_is_allowed():
    with pytest.raises(Refused) as refused:
        checked(MakeBath(formula="pyro-soda", volume_ml=0.0))
    assert refused.value.line == "volume ml: out of bounds; allowed: at least 10"


def test_a_text_too_long_is_refused_in_signs():
    with pytest.raises(Refused, match=r"text: out of bounds; allowed: at most \d+ signs"):
        checked(Note(text="x" * 100_000, lane=1))


def test_what_is_allowed_passes():
    act = MakeBath(formula="pyro-soda", volume_ml=500.0)
    assert checked(act) is act
