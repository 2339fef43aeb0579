"""``embertray reckon`` loads one topic only, and prints lines or one JSON object."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from tui.cli import main
from tui.commands.reckonings import TOPICS
from tui.commands.reckonings.command import printed
from tui.commands.reckonings.topic import Answer


def test_an_answer_is_printed_as_lines(capsys):
    assert main(["reckon", "appearance", "--appeared", "45s", "--factor", "5"]) == 0
    assert capsys.readouterr().out == "3 min 45 s in all: 45 s to appear, times 5\n"


def test_an_answer_is_printed_as_one_json_object(capsys):
    assert main(["reckon", "appearance", "--appeared", "45s", "--factor", "5", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["time_s"] == 225


def test_json_leaves_out_the_machines_last_figures():
    answer = Answer({"time_s": 0.1 + 0.2, "rows": [{"ok": True, "n": 3, "none": None}], "word": "a"}, ())
    assert json.loads(printed(answer, as_json=True)) == {
        "time_s": 0.3,
        "rows": [{"ok": True, "n": 3, "none": None}],
        "word": "a",
    }


def test_a_refusal_is_one_line_and_exit_code_1(capsys):
    assert main(["reckon", "temperature", "--coefficient", "2.36"]) == 1
    said = capsys.readouterr()
    assert said.out == ""
    assert said.err.count("\n") == 1
    assert "--coefficient" in said.err


@pytest.mark.parametrize(
    "words",
    [
        ["reckon"],
        ["reckon", "weather"],
        ["reckon", "temperature", "--colour"],
        ["reckon", "temperature", "--tim"],
    ],
)
def test_wrong_usage_is_exit_code_2(words, capsys):
    assert main(words) == 2
    assert "usage:" in capsys.readouterr().err


def test_help_names_every_topic(capsys):
    assert main(["reckon", "--help"]) == 0
    said = capsys.readouterr().out
    for topic in TOPICS:
        assert topic in said


def test_help_of_a_topic_names_its_options(capsys):
    assert main(["reckon", "contrast", "--help"]) == 0
    assert "--gamma-inf" in capsys.readouterr().out


def test_only_the_topic_asked_for_is_loaded():
    program = (
        "import sys; from tui.cli import main;"
        "main(['reckon', 'appearance', '--appeared', '45s', '--factor', '5']);"
        "heavy = {'textual', 'numpy', 'scipy', 'pint',"
        "'tui.commands.reckonings.contrast', 'tui.commands.reckonings.paper'};"
        "sys.exit(', '.join(heavy & set(sys.modules)) or 0)"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
