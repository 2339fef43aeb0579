"""A page comes out of each printer whole, the same every time, and with hostile text shown as text."""

from __future__ import annotations

import hashlib
import os
import re
import subprocess
import sys

import pytest

from firmware_py.report.sheets.drawn import pdf_of, svg_of, width_mm
from firmware_py.report.sheets.html import html_of
from firmware_py.report.sheets.layout import leaves_of, long_leaf_of
from firmware_py.report.sheets.page import PAPERS_MM, Page, Words
from firmware_py.report.sheets.run_sheet import run_page
from firmware_py.report.sheets.strip import Line
from tests.report.sheets.making import HOSTILE, Read, a_history, a_page

PRINTERS = {"html": html_of, "svg": svg_of, "pdf": pdf_of}
SHOWN = "<script>alert(1)</script> {{ 7 * 7 }} \"onload='x' ]]> --> $\\frac{1}{ & ?[31m?"


def test_hostile_text_is_shown_as_text_and_makes_no_element():
    plain, hostile = (Read(html_of(a_page(note), "A4").decode()) for note in ("harmless", HOSTILE))
    assert SHOWN in hostile.text
    assert hostile.tags == plain.tags
    assert len(hostile.attributes) == len(plain.attributes)
    assert "script" not in hostile.tags


def test_the_html_asks_nothing_from_outside():
    html = html_of(a_page(HOSTILE), "A4").decode()
    found = Read(html)
    assert not found.tags & {"script", "img", "link", "iframe", "object", "embed", "base", "image"}
    links = [value for name, value in found.attributes if name in {"src", "href", "xlink:href", "action"}]
    assert all((value or "").startswith("#") for value in links)
    assert "@import" not in html
    assert not re.search(r"url\((?!#)", html)
    assert "default-src 'none'" in html


def small(words: str) -> Page:
    return Page("A sheet", "of words", (Words("", (words,)),), "its foot")


@pytest.mark.parametrize("kind", ["svg", "pdf"])
def test_hostile_text_is_drawn_as_well(kind):
    printed = PRINTERS[kind](small(HOSTILE), "A4")
    assert printed
    assert b"<script" not in printed


def test_every_printer_prints_the_same_bytes_in_another_interpreter_and_no_date():
    printed = [printer(small("note"), "A4") for printer in PRINTERS.values()]
    code = (
        "import hashlib\n"
        "from tests.report.sheets.test_printers import PRINTERS, small\n"
        "for printer in PRINTERS.values():\n"
        "    print(hashlib.sha256(printer(small('note'), 'A4')).hexdigest())"
    )
    env = {**os.environ, "PYTHONHASHSEED": "4711"}
    said = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, env=env)
    assert said.stdout.split() == [hashlib.sha256(one).hexdigest() for one in printed]
    for one in printed:
        assert b"<dc:date>" not in one
        assert b"Date" not in one


def test_signs_the_typeface_lacks_are_drawn_as_boxes_and_stand_in_the_html():
    page = small("first light 露光 λ")
    assert "露光 λ" in html_of(page, "A4").decode()
    assert "□□ λ".encode() in svg_of(page, "A4")


def test_a_usual_run_fits_one_leaf_and_on_a4_with_its_print():
    assert len(leaves_of(a_page("one note"), "A4", width_mm)) == 1
    assert len(leaves_of(run_page(a_history("one note")), "Letter", width_mm)) == 1


def test_a_long_one_goes_on_to_more_leaves_or_a_longer_picture():
    long = a_page(*(f"note {n}" for n in range(150)))
    leaf = long_leaf_of(long, "A4", width_mm)
    assert leaf.height_mm > 2 * PAPERS_MM["A4"][1]
    for leaves in (leaves_of(long, "A4", width_mm), [leaf]):
        said = {item.words for one in leaves for item in one.items if isinstance(item, Line)}
        assert {f"note {n}" for n in range(150)} <= said
    few = Page("A sheet", "of words", (Words("", ("a line",) * 100),), "its foot")
    assert pdf_of(few, "A4").count(b"/Type /Page ") == len(leaves_of(few, "A4", width_mm)) == 2
