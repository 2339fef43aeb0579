"""Refusals: one line, and nothing in it can reach a terminal's controls."""

from firmware_py.craft.refusal import Refused, shown


def test_a_refusal_is_one_line_of_place_reason_and_rule():
    assert str(Refused("too\nlarge", where="stop", allowed="f/8")) == "stop: too large; allowed: f/8"
    assert str(Refused("too large", where="stop").at("bench.toml")) == "bench.toml: stop: too large"


def test_what_a_person_wrote_is_shown_short_and_without_control_characters():
    assert shown(" f/8 ") == '"f/8"'
    assert shown("\x1b[31m") == '"?[31m"'
    assert len(shown("x" * 500)) == 42


def test_no_control_character_reaches_the_line_whoever_writes_it():
    assert str(Refused("unit \x08 of\x1b[32m", where="a\x07b")) == "a?b: unit ? of?[32m"
