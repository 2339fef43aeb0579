"""The lines between controller and switchboard: whole facts or none."""

import contextlib
import json
import math
from typing import get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.switchboard import commands, reports
from firmware_py.switchboard.commands import Beat, Configure, Expose, RelayWiring
from firmware_py.switchboard.lines import LINE_LIMIT, read_command, read_report, write_line
from firmware_py.switchboard.reports import RelaySwitched

finite = st.floats(allow_nan=False, allow_infinity=False)
st.register_type_strategy(float, finite)
st.register_type_strategy(str, st.text(max_size=40))


def any_of(union):
    """Return facts of every kind in a union."""
    return st.one_of([st.from_type(kind) for kind in get_args(union)])


@given(any_of(commands.Command))
def test_any_command_reads_back_as_written(command):
    line = write_line(command)
    assert line.endswith(b"\n")
    assert line.count(b"\n") == 1
    assert read_command(line) == command


@given(any_of(reports.Report))
def test_any_report_reads_back_as_written(report):
    assert read_report(write_line(report)) == report


@pytest.mark.parametrize(
    ("line", "word"),
    [
        (b"", "unreadable"),
        (b"garbage", "unreadable"),
        (b'{"say": "Beat", "number": 1', "unreadable"),
        (b"\xff\xfe", "unreadable"),
        (b"[" * 9000, "unreadable"),
        (b"[]", "one JSON object"),
        (b"{}", "'say' with one of"),
        (b'{"say": "Burn"}', "'say' with one of"),
        (b'{"say": ["Beat"], "number": 1}', "'say' with one of"),
        (b'{"say": "Alive", "number": 1}', "'say' with one of"),
        (b'{"say": "Beat"}', "allowed: number"),
        (b'{"say": "Beat", "number": 1, "more": 2}', "allowed: number"),
        (b'{"say": "Beat", "number": 1, "number": 2}', "twice"),
        (b'{"say": "Beat", "number": true}', "Beat.number"),
        (b'{"say": "Beat", "number": 1.0}', "Beat.number"),
        (b'{"say": "Switch", "relay": "lamp", "on": 1}', "Switch.on"),
        (b'{"say": "Expose", "id": "a", "relay": "lamp", "for_s": NaN, "ceiling_s": 1}', "NaN"),
        (b'{"say": "Expose", "id": "a", "relay": "lamp", "for_s": 1e999, "ceiling_s": 1}', "for_s"),
        (
            b'{"say": "Expose", "id": "a", "relay": "lamp", "for_s": ' + b"9" * 400 + b', "ceiling_s": 1}',
            "for_s",
        ),
        (b'{"say": "Beat", "number": ' + b"9" * 5000 + b"}", "digits"),
        (b'{"say": "Expose", "id": "a", "relay": "lamp", "for_s": "8", "ceiling_s": 1}', "for_s"),
        (b'{"say": "Expose", "id": null, "relay": "lamp", "for_s": 8, "ceiling_s": 1}', "id"),
        (
            b'{"say":"Configure","relays":[1],"pins":"mock","record":null,"silence_s":1,"last_words":null}',
            "RelayWiring",
        ),
        (
            b'{"say":"Configure","relays":{},"pins":"mock","record":null,"silence_s":1,"last_words":null}',
            "RelayWiring",
        ),
        (b" " * LINE_LIMIT + b'{"say": "Beat", "number": 1}', "bytes"),
    ],
)
def test_a_line_that_is_not_exactly_a_command_is_refused(line, word):
    with pytest.raises(Refused, match=word):
        read_command(line)


def test_a_whole_number_of_seconds_is_read_as_seconds():
    command = read_command(b'{"say": "Expose", "id": "a", "relay": "lamp", "for_s": 8, "ceiling_s": 60}')
    assert command == Expose("a", "lamp", 8.0, 60.0)
    assert isinstance(command, Expose)
    assert isinstance(command.for_s, float)


def test_numbers_without_a_value_are_not_even_written():
    with pytest.raises(ValueError, match="not JSON compliant"):
        write_line(RelaySwitched("lamp", True, math.nan))


@given(st.binary(max_size=200) | st.text(max_size=200).map(str.encode))
def test_no_line_does_more_than_be_refused(line):
    with pytest.raises(Refused):
        read_command(line)


scalars = st.none() | st.booleans() | finite | st.text(max_size=5)
strange = scalars | st.lists(scalars, max_size=3) | st.dictionaries(st.text(max_size=3), scalars, max_size=2)


@settings(max_examples=50)
@given(st.data())
def test_a_command_with_one_value_exchanged_is_still_a_whole_command_or_refused(data):
    whole = [
        Configure((RelayWiring("lamp", 17, ceiling_s=600.0),), "mock"),
        Beat(1),
        Expose("a", "lamp", 8.0, 60.0),
    ]
    said = json.loads(write_line(data.draw(st.sampled_from(whole))))
    key = data.draw(st.sampled_from(sorted(said)))
    said[key] = data.draw(strange)
    with contextlib.suppress(Refused):
        command = read_command(json.dumps(said).encode())
        assert read_command(write_line(command)) == command
