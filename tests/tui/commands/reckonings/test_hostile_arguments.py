"""Whatever is written after ``embertray reckon TOPIC``, it is answered or refused in one line."""

from __future__ import annotations

import argparse
from contextlib import redirect_stderr
from importlib.util import find_spec
from io import StringIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from tui.commands.reckonings import TOPICS, topic_called
from tui.commands.reckonings.command import printed
from tui.commands.reckonings.topic import Answer

HERE = [topic for topic in TOPICS if find_spec(f"tui.commands.reckonings.{topic}") is not None]
TIMES = ["0s", "1e-9s", "45s", "6min", "1e9s", "7:30"]
TEMPERATURES = ["0degC", "13degC", "20degC", "68degF", "-400degC", "0.5K", "70s@8degC", "25s@20degC"]
NUMBERS = ["0", "1", "-1", "2.5", "1/3", "1e14", "1e-300", "nan", "inf", "6:1", "f/16", "f/0", "64"]
OTHERS = [
    "2.36/10K",
    "1/10K",
    "0.037log/K",
    "3min:0.8948",
    "6min:1.2374",
    "0.1,0.2,0.4,0.6,0.8,1",
    "hard,thin",
]
AMOUNTS = ["500ml", "0ml", "30gr", "2oz", "165mm", "0mm", "1e-9g"]
QUANTITIES = TIMES + TEMPERATURES + NUMBERS + OTHERS + AMOUNTS
words = st.one_of(st.sampled_from(QUANTITIES), st.text(max_size=30))


@pytest.mark.parametrize("topic", HERE)
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_any_words_are_answered_or_refused(topic, data):
    parser = argparse.ArgumentParser(allow_abbrev=False)
    topic_called(topic).declare(parser)
    given = [word for action in parser._actions for word in written(action, data)]
    try:
        with redirect_stderr(StringIO()):
            args = parser.parse_args(given)
        answer = topic_called(topic).reckon(args)
    except SystemExit as leaving:
        answer = Answer({"wrong_usage": leaving.code if isinstance(leaving.code, int) else 2}, ())
    except Refused as refusal:
        answer = Answer({"refused": refusal.what}, (str(refusal),))
    assert printed(answer, as_json=True)
    assert all(line.isprintable() for line in answer.lines)


def written(action: argparse.Action, data: st.DataObject) -> list[str]:
    """Return the words that give ``action``, or none; ``--option=word`` keeps a leading minus a value."""
    if action.dest == "help" or not data.draw(st.booleans(), label=action.dest):
        return []
    if action.nargs == 0:
        return [action.option_strings[0]]
    among = words if action.choices is None else st.sampled_from([str(choice) for choice in action.choices])
    several = data.draw(st.lists(among, min_size=1, max_size=3))
    if not action.option_strings or action.nargs is not None:
        return [*action.option_strings[:1], *several]
    return [f"{action.option_strings[0]}={word}" for word in several]
