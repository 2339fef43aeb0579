"""What the manual, README and DEVELOPERS name is there: files, commands, words, units, decisions."""

from __future__ import annotations

import argparse
import re
import tomllib
from pathlib import Path

import msgspec
import pytest

from docs.made.journal import event_kinds
from docs.made.parts import PAGES, filled
from firmware_py.facts.events.event import Event
from tui.cli import COMMANDS, _parser

ROOT = PAGES.parent
PROSE = [ROOT / "README.md", ROOT / "DEVELOPERS.md", *sorted(PAGES.rglob("*.md"))]
# Numbers without a unit, and places in a strip.
UNITLESS = frozenset(
    [
        "burns",
        "extension_factor",
        "f_number",
        "filter_factor",
        "fog_density",
        "gamma",
        "highlight_density",
        "paper_log_range",
        "paper_speed",
        "place",
        "shadow_density",
        "speed_index",
        "step_stops",
        "stops",
        "times_longer",
        "warm_up",
    ]
)


def text_of(file: Path) -> str:
    return file.read_text(encoding="utf-8")


def paths_named(text: str) -> set[str]:
    """Return the project's files and folders that a text names in backticks."""
    return set(re.findall(r"`((?:[a-z_]+/)+[\w.-]*\w)`", text))


@pytest.mark.parametrize("file", PROSE, ids=lambda file: str(file.relative_to(ROOT)))
def test_files_that_are_named_exist(file: Path):
    ours = {path.name for path in ROOT.iterdir()} | {p.name for p in (ROOT / "firmware_py").iterdir()}
    named = {name for name in paths_named(text_of(file)) if name.split("/")[0] in ours}
    assert {n for n in named if not (ROOT / n).exists() and not (ROOT / "firmware_py" / n).exists()} == set()


@pytest.mark.parametrize("file", PROSE, ids=lambda file: str(file.relative_to(ROOT)))
def test_commands_that_are_named_exist(file: Path):
    named = set(re.findall(r"(?:^    |`)embertray ([a-z]+)", text_of(file), flags=re.MULTILINE))
    assert named <= set(COMMANDS)


def anchors_of(file: Path) -> set[str]:
    """Return the anchors that the headings of a page get, made parts and all."""
    headings = re.findall(r"^#+ (.*)$", filled(text_of(file)), flags=re.MULTILINE)
    return {re.sub(r"[\s-]+", "-", re.sub(r"[^\w\s-]", "", words).strip().lower()) for words in headings}


@pytest.mark.parametrize("file", PROSE, ids=lambda file: str(file.relative_to(ROOT)))
def test_links_lead_somewhere(file: Path):
    for target in re.findall(r"\]\(([^)\s]+)\)", text_of(file)):
        if "://" in target:
            continue
        name, _, anchor = target.partition("#")
        there = (file.parent / name).resolve() if name else file
        assert there.exists(), target
        if anchor:
            assert anchor in anchors_of(there), target


def options_of(parser: argparse.ArgumentParser) -> set[str]:
    """Return the long options of a command and of all under it."""
    found: set[str] = set()
    for action in parser._actions:
        found |= {option for option in action.option_strings if option.startswith("--")}
        if isinstance(action, argparse._SubParsersAction):
            for inner in action.choices.values():
                found |= options_of(inner)
    return found


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_and_each_of_its_options_is_told(command):
    manual = "\n".join(map(text_of, sorted(PAGES.rglob("*.md"))))
    assert f"embertray {command}" in manual
    parser = _parser([command])
    (commands,) = (a for a in parser._actions if isinstance(a, argparse._SubParsersAction))
    options = options_of(commands.choices[command]) - {"--help"}
    assert {option for option in options if not re.search(rf"{option}\b", manual)} == set()


def test_the_floor_plan_has_the_arrows_that_are_held():
    project = tomllib.loads(text_of(ROOT / "pyproject.toml"))
    layers = next(c["layers"] for c in project["tool"]["importlinter"]["contracts"] if c["type"] == "layers")
    assert f"    {' -> '.join(['tui', *layers])}\n" in text_of(ROOT / "DEVELOPERS.md")


def test_every_decision_has_its_status_context_decision_and_consequences():
    for file in (PAGES / "decisions").glob("*.md"):
        parts = re.findall(r"^\*\*(\w+)[:.]\*\*", text_of(file), flags=re.MULTILINE)
        assert parts == ["Status", "Context", "Decision", "Consequences"], file


def test_every_page_stands_in_the_navigation():
    """Else mkdocs builds it, and nobody finds it."""
    told = (ROOT / ".mkdocs.yml").read_text(encoding="utf-8")
    missing = [p for p in PAGES.rglob("*.md") if str(p.relative_to(PAGES)) not in told]
    assert missing == []


def fields_of(kind: type[Event]) -> set[str]:
    return {f.name for f in msgspec.structs.fields(kind) if "float" in str(f.type)}


def test_every_number_of_the_book_has_a_unit_of_the_glossary_or_none():
    endings = tuple(re.findall(r"`(_\w+)`", text_of(PAGES / "glossary.md")))
    numbers = set().union(*map(fields_of, event_kinds())) - UNITLESS
    assert {name for name in numbers if not name.endswith(endings)} == set()


def test_the_readme_has_the_two_commands_and_nothing_that_is_not_measured():
    readme = text_of(ROOT / "README.md")
    assert re.findall(r"^    (.*)$", readme, flags=re.MULTILINE) == [
        "python3 -m venv .venv && .venv/bin/pip install -q . && .venv/bin/embertray rehearse",
        "python3 -m venv .venv && .venv/bin/pip install -q -e '.[test]' && .venv/bin/pytest",
    ]
    assert re.findall(r"\d+(?:\.\d+)? ?(?:ms|µs|s|%|K|°C)\b", readme) == []
