"""A little of the fuzzing in every run; and that a parser which breaks, or hangs, is found and told."""

from pathlib import Path
from random import Random

import pytest

from tests.benchmarks import fuzz
from tests.benchmarks.fuzz_parsers import Parser, parsers

CASES = 25


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("fuzz")


@pytest.mark.parametrize("name", [parser.name for parser in parsers(Path())])
def test_spoilt_bytes_are_taken_or_refused(name, folder):
    (parser,) = [each for each in parsers(folder) if each.name == name]
    outcome = fuzz.Outcome()
    with fuzz.alarm():
        for sample in parser.samples():
            fuzz.feed(parser, sample, outcome)
        assert outcome.taken, "not one of the good samples is taken"
        for seed in range(CASES):
            fuzz.feed(parser, fuzz.spoilt(parser.samples(), Random(seed)), outcome)
    assert outcome.broken == {}


def breaking(data):
    if b"x" in data:
        raise ZeroDivisionError
    raise ValueError(data)


def test_a_parser_that_breaks_is_told_with_its_place_and_shortest_case():
    broken = Parser("breaking", breaking, lambda: [b"axb"], (ValueError,))
    outcome = fuzz.fuzz(broken, 200)
    assert outcome.cases == 200
    assert outcome.refused
    ((where, count),) = outcome.broken.items()
    assert where.startswith("ZeroDivisionError in test_fuzz.py")
    assert count == outcome.broken.total()
    assert b"x" in outcome.example[where]
    said: list[str] = []
    assert fuzz.report({"breaking": outcome}, said.append) == 1
    assert "ZeroDivisionError" in said[-1]


def test_a_parser_that_hangs_is_ended(monkeypatch):
    monkeypatch.setattr(fuzz, "HANG_S", 0.02)

    def hanging(data):
        while True:
            pass

    outcome = fuzz.Outcome()
    with fuzz.alarm():
        fuzz.feed(Parser("hanging", hanging, lambda: [b""]), b"", outcome)
    assert [where.split()[0] for where in outcome.broken] == ["HangError"]


def test_nothing_broken_is_a_good_end(capsys):
    assert fuzz.main(["--cases", "20", "CSV"]) == 0
    assert "CSV trace" in capsys.readouterr().out
