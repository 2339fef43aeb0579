"""What the manual makes from the code is whole, and stands on a page."""

from __future__ import annotations

import re
from typing import get_args

import msgspec
import pytest

from docs.made.checked import reference_files
from docs.made.craft import GROUPS, public_things
from docs.made.faults import ROOT, refusals, watchers
from docs.made.files import FILES, shapes
from docs.made.journal import event_kinds
from docs.made.parts import END, MARKER, PAGES, PARTS, filled, page, pages_with_parts, written
from docs.made.settings import bounds_of, meanings_of, sections
from firmware_py.bench.matters import MATTERS
from firmware_py.facts.events.run import AnyEvent
from firmware_py.journal.copies import TABLE_HEADINGS
from firmware_py.journal.lines import Line
from firmware_py.settings import HeaterSection, Settings
from firmware_py.strict_toml import DegC
from tui.faults import FAULT_FILE
from tui.gate.prompt import RELEASE, RELEASE_WORD, how_it_ended, how_it_stopped
from tui.pages.key_table import EVERYWHERE, PAGE_KEYS
from tui.pages.key_table import PAGES as SCREEN_PAGES


def test_every_made_part_stands_on_one_page_and_every_marker_is_made():
    asked = [m["name"] for p in PAGES.rglob("*.md") for m in MARKER.finditer(p.read_text(encoding="utf-8"))]
    assert sorted(asked) == sorted(PARTS)


@pytest.mark.parametrize("path", pages_with_parts(), ids=lambda path: path.stem)
def test_what_is_made_stands_in_the_file_itself_as_the_code_has_it(path):
    """For whoever reads the files and builds nothing. `python -m docs.made` writes it anew."""
    text = path.read_text(encoding="utf-8")
    assert written(text) == text, "run: python -m docs.made"


@pytest.mark.parametrize("name", ["settings", "keys", "notices", "interlocks", "refusals", "hazards"])
def test_the_tables_of_the_manual_are_not_empty_in_their_files(name):
    (text,) = [
        text
        for path in pages_with_parts()
        if f"<!-- made: {name} -->" in (text := path.read_text(encoding="utf-8"))
    ]
    inside = text.split(f"<!-- made: {name} -->")[1].split(END.format(name=name))[0]
    assert inside.count("\n|") > 5 or inside.count("\n- ") > 5


def test_a_part_is_written_between_its_lines_and_replaced_there_alone():
    page = f"before\n<!-- made: hazards -->\nold\n{END.format(name='hazards')}\nafter\n"
    once = written(page)
    assert once.startswith("before\n<!-- made: hazards -->\n\n| substance")
    assert once.endswith(f"\n\n{END.format(name='hazards')}\nafter\n")
    assert written(once) == once
    assert "made" not in filled(once).split("\n")[0]
    assert END.format(name="hazards") not in filled(once)


def test_every_setting_has_its_row_with_its_meaning():
    told = page("settings.md")
    headings = {field.encode_name for field in msgspec.structs.fields(Settings)}
    assert {re.split(r"[.\]]", heading[1:])[0] for heading, _ in sections()} == headings
    for heading, kind in sections():
        section = told.split(f"### `{heading}`")[1].split("\n### ")[0]
        keys = {field.encode_name for field in msgspec.structs.fields(kind)}
        assert set(re.findall(r"^\| `([\w-]+)` \|", section, flags=re.MULTILINE)) == keys
        intro, meanings = meanings_of(kind)
        assert intro
        assert set(meanings) == {field.name for field in msgspec.structs.fields(kind)}, heading


def test_bounds_are_those_that_are_enforced():
    assert bounds_of(HeaterSection)["limit"] == "15 degC to 40 degC"
    with pytest.raises(ValueError, match="15 degC to 40 degC"):
        HeaterSection(limit=DegC(41.0))


def test_every_key_of_every_page_is_told():
    told = page("keys.md")
    for use in (*EVERYWHERE, *(use for name in SCREEN_PAGES for use in PAGE_KEYS[name])):
        assert f"| **{use.label}** | {use.where} |" in told


def test_every_notice_has_its_row_with_cause_and_next_step():
    told = page("faults.md")
    for matter in MATTERS.values():
        assert matter.cause in told
        assert matter.to_do in told


def test_the_seven_interlocks_are_kept_told_and_shown_by_a_test():
    told = page("faults.md")
    assert {watcher.number for watcher in watchers()} == set(range(1, 8))
    for watcher in watchers():
        assert (ROOT / watcher.shown_by).is_file(), watcher
    ways_out = re.findall(r"^\| (\d) \| [A-Z]", told.split("when it holds you up")[1], re.MULTILINE)
    assert [int(number) for number in ways_out[:7]] == list(range(1, 8))


def test_what_gate_and_screen_say_without_a_bench_is_told():
    told = page("faults.md").split("## When the screen is gone")[1].split("\n## ")[0]
    for words in (
        how_it_ended(1).partition("1")[0],
        how_it_ended(137).partition("signal")[0],
        how_it_stopped(19).partition("signal")[0],
        RELEASE.partition(RELEASE_WORD)[0],
        FAULT_FILE,
        "BENCH DISCONNECTED",
        "NOT YET: run",
    ):
        assert words in told


def test_refusals_are_found_as_they_are_written():
    found = [(r.where, r.what) for r in refusals()]
    assert len(found) > 100
    assert ("interlock 6", "… stays off after a start") in found


def test_every_event_is_told():
    told = page("events.md")
    assert set(event_kinds()) == set(get_args(AnyEvent))
    for kind in event_kinds():
        assert f"| `{kind.__struct_config__.tag}` |" in told


@pytest.mark.parametrize(
    ("heading", "names"), [("The table", TABLE_HEADINGS), ("The open form", Line.__struct_fields__)]
)
def test_every_column_and_field_of_an_export_is_told(heading, names):
    told = page("logbook.md").split(f"## {heading}\n")[1].split("\n## ")[0]
    cells = re.findall(r"^\| (`.*?) \|", told, flags=re.MULTILINE)
    assert set(re.findall(r"`(\w+)`", " ".join(cells))) == set(names)


@pytest.mark.parametrize("kind", FILES)
def test_every_key_of_a_file_of_ones_own_is_told(kind):
    part = PARTS[f"file {kind}"]()
    for shape in shapes(kind):
        for field in msgspec.structs.fields(shape):
            assert f"| `{field.encode_name}` |" in part
    assert part in page("files.md")


def test_every_room_of_the_craft_stands_in_one_group():
    rooms = {file.stem for file in (ROOT / "firmware_py" / "craft").glob("[!_]*.py")}
    assert sorted(room for group in GROUPS.values() for room in group) == sorted(rooms)


def test_a_craft_page_has_words_range_and_source_of_each_function():
    from firmware_py.craft import equivalent

    told = page("craft/development.md")
    for title, _ in public_things(equivalent):
        assert f"**`{title}`**" in told
    assert "*Source:* definition of the rate." in told


def test_every_reference_check_is_listed():
    told = page("checked.md")
    for file in reference_files():
        assert f"tests/reference/{file.name}" in told
