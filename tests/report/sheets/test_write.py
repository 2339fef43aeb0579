"""A sheet is written whole, over nothing, and only where and as it can be."""

from __future__ import annotations

import sys

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.report.sheets import write
from firmware_py.report.sheets.page import Page, Words

PAGE = Page("A sheet", "of words", (Words("", ("all of them",)),), "its foot")


@pytest.mark.parametrize(
    ("name", "begins"), [("a.html", b"<!DOCTYPE"), ("a.SVG", b"<?xml"), ("a.pdf", b"%PDF")]
)
def test_the_ending_says_as_what_it_is_written(tmp_path, name, begins):
    write.write_page(PAGE, tmp_path / name)
    assert (tmp_path / name).read_bytes().startswith(begins)
    assert [path.name for path in tmp_path.iterdir()] == [name]


@pytest.mark.parametrize("name", ["sheet", "sheet.png", "sheet.html.gz", ".html"])
def test_another_ending_is_refused_with_those_there_are(tmp_path, name):
    with pytest.raises(Refused, match=r"\.html, \.svg, \.pdf"):
        write.write_page(PAGE, tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_file_that_stands_is_kept_unless_told_otherwise(tmp_path):
    target = tmp_path / "sheet.html"
    target.write_text("mine")
    with pytest.raises(Refused, match="such a file already"):
        write.write_page(PAGE, target)
    assert target.read_text() == "mine"
    write.write_page(PAGE, target, force=True)
    assert "all of them" in target.read_text()


def test_a_folder_and_a_place_that_is_none_are_refused(tmp_path):
    (tmp_path / "folder.html").mkdir()
    for force in (False, True):
        with pytest.raises(Refused, match="this is a folder"):
            write.write_page(PAGE, tmp_path / "folder.html", force=force)
    with pytest.raises(Refused, match="no such folder"):
        write.write_page(PAGE, tmp_path / "nowhere" / "sheet.html")


def test_a_folder_that_may_not_be_written_is_refused(tmp_path, monkeypatch):
    def forbidden(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("os.open", forbidden)  # root may write anywhere
    with pytest.raises(Refused, match="Permission denied"):
        write.write_page(PAGE, tmp_path / "sheet.html")


def test_a_disk_that_does_not_take_it_is_refused_and_nothing_is_left(tmp_path, monkeypatch):
    def full(path, data):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("pathlib.Path.write_bytes", full)
    with pytest.raises(Refused, match="No space left on device"):
        write.write_page(PAGE, tmp_path / "sheet.html")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("name", "room", "missing"),
    [("s.html", "html", "jinja2"), ("s.svg", "drawn", "matplotlib"), ("s.pdf", "drawn", "matplotlib")],
)
def test_without_the_extra_one_line_says_what_to_install(tmp_path, monkeypatch, name, room, missing):
    monkeypatch.delitem(sys.modules, f"firmware_py.report.sheets.{room}", raising=False)
    monkeypatch.setitem(sys.modules, missing, None)
    for loaded in [one for one in sys.modules if one.startswith(f"{missing}.")]:
        monkeypatch.setitem(sys.modules, loaded, None)
    with pytest.raises(Refused) as refusal:
        write.write_page(PAGE, tmp_path / name)
    assert refusal.value.line == (
        f"sheet: {missing} is not installed; allowed: with the extra: pip install 'embertray[sheets]'"
    )
    assert list(tmp_path.iterdir()) == []
