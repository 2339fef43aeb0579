"""Every example on the command line's page prints what the page says, and every topic has one."""

from __future__ import annotations

import shlex
from importlib.util import find_spec
from pathlib import Path

import pytest

from tui.cli import main
from tui.commands.reckonings import TOPICS

PAGE = Path(__file__).parents[2] / "docs" / "command-line.md"
PROMPT = "    $ embertray "


def examples() -> list[tuple[int, str, str]]:
    """Return line number, command and output of each example; a blank line inside an output belongs to it."""
    found: list[tuple[int, str, list[str]]] = []
    inside = False
    for number, line in enumerate(PAGE.read_text(encoding="utf-8").splitlines(), start=1):
        if line.startswith(PROMPT):
            found.append((number, line.removeprefix(PROMPT), []))
            inside = True
        elif inside and (not line or line.startswith("    ")):
            found[-1][2].append(line.removeprefix("    "))
        else:
            inside = False
    return [(number, command, "\n".join(output).rstrip("\n") + "\n") for number, command, output in found]


EXAMPLES = examples()


@pytest.mark.parametrize(
    ("command", "printed"),
    [(c, p) for _, c, p in EXAMPLES],
    ids=[f"line {number}" for number, _, _ in EXAMPLES],
)
def test_an_example_prints_what_the_page_says(command, printed, capsys, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    for folder in ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME", "XDG_STATE_HOME"):
        monkeypatch.setenv(folder, str(tmp_path))
    code = main(shlex.split(command))
    said = capsys.readouterr()
    assert said.out + said.err == printed
    assert code == (1 if said.err else 0)


def sections() -> dict[str, str]:
    parts = PAGE.read_text(encoding="utf-8").split("\n## ")[1:]
    return {part.partition("\n")[0].strip(): part for part in parts}


@pytest.mark.parametrize("topic", TOPICS)
def test_every_topic_that_exists_has_a_section_with_an_example(topic):
    section = sections()[f"reckon {topic}"]
    if find_spec(f"tui.commands.reckonings.{topic}") is not None:
        assert f"\n{PROMPT}reckon {topic} " in section


@pytest.mark.parametrize("command", ["daylight", "mix"])
def test_every_command_of_the_craft_that_exists_has_an_example(command):
    section = sections()[command]
    if find_spec(f"tui.commands.reckonings.{command}") is not None:
        assert f"\n{PROMPT}{command} " in section
