"""What a console's font lacks is drawn by signs that it has, in as many cells."""

from __future__ import annotations

import fcntl
from html import unescape

import pytest

from tests.tui.pictures import FOLDER
from tests.tui.red.console_fonts import LACKING, fonts, lacking
from tui.red.blocks import blocks_variable
from tui.red.characters import drawable
from tui.red.console_font import (
    GIO_UNIMAP,
    IN_EVERY_FONT,
    IN_NEARLY_EVERY_FONT,
    STAND_INS,
    font_of,
    shown_by,
)
from tui.red.rewriter import RedOnly
from tui.widgets.big_time import GLYPHS, drawn, scale_for

# Linux, drivers/tty/vt/cp437.uni: what of our table the kernel's own font lacks.
KERNEL_LACKS = set("□☐…−–—′″‘’“”▁▂▃▅▆▇▉▊▋▍▎▏")


@pytest.fixture(scope="module")
def shipped():
    found = fonts()
    if not found:
        pytest.skip("no console fonts are here (Debian: console-setup-linux)")
    assert all("A" in font for font in found.values())
    return found


def test_every_sign_that_stands_in_is_in_every_font(shipped):
    for name, font in shipped.items():
        assert font >= IN_EVERY_FONT, name
        assert font >= IN_NEARLY_EVERY_FONT or name.startswith("Ethiopian-Goha"), name
    assert frozenset(STAND_INS.values()) <= IN_EVERY_FONT


def test_the_list_of_what_is_lacking_is_as_read(shipped):
    assert LACKING.read_text(encoding="utf-8") == lacking()


def test_on_every_shipped_font_all_that_the_pages_draw_is_drawn_by_what_it_has(shipped):
    everything = "".join(sorted(pages())) + "".join(STAND_INS)
    for name, font in [
        *shipped.items(),
        ("the kernel's own", frozenset(STAND_INS) - KERNEL_LACKS | IN_EVERY_FONT),
    ]:
        sent = RedOnly(120, console=True, font=font).feed_text(everything)
        text = sent[sent.index("m") + 1 :]
        assert set(text) <= font | IN_EVERY_FONT, name
        assert len(text) == len(everything)


def pages():
    """Every character of the pages, as the manual's pictures of them have it."""
    return set("".join(unescape(path.read_text(encoding="utf-8")) for path in FOLDER.glob("*.svg"))) - {"\n"}


def test_every_character_of_the_pages_is_in_every_font_or_has_a_stand_in():
    lost = pages() - IN_EVERY_FONT - set(STAND_INS)
    assert {sign for sign in lost if not sign.isalpha()} == set()


def test_large_digits_without_half_blocks_are_of_whole_cells():
    for height in range(30):
        scale = scale_for("12:34", 200, height, halves=False)
        assert scale in {0, 2, 4}
        assert not scale or {sign for digit in GLYPHS for row in drawn(digit, scale) for sign in row} == set(
            "█ "
        )
    assert scale_for("12:34", 52, 7, halves=False) == 2
    assert blocks_variable(None) == blocks_variable(frozenset("▀▄A")) != blocks_variable(frozenset("▀A"))


def test_what_is_written_by_the_person_loses_its_accents_and_no_number_becomes_another():
    shown = shown_by(IN_EVERY_FONT)
    assert shown("Skärbäck é") == "Skarback e"
    assert shown("½ ² 乾") == "? 2 ??"
    assert shown_by(IN_EVERY_FONT | {"ä"})("äé") == "äe"
    assert shown(drawable("\U0001f600")) == ".."


def test_a_console_is_asked_for_its_font(monkeypatch):
    def answer(console, request, told):
        assert (console, request) == (7, GIO_UNIMAP)
        for place, sign in enumerate("▀°"):
            told.pairs[place].unicode, told.pairs[place].place = ord(sign), place
        told.count = 2

    monkeypatch.setattr(fcntl, "ioctl", answer)
    assert font_of(7) == IN_EVERY_FONT | set("▀°")


def test_a_line_that_is_no_console_gets_what_nearly_every_font_has():
    with open("/dev/null") as line:  # noqa: PTH123 - a descriptor is wanted
        assert font_of(line.fileno()) == IN_NEARLY_EVERY_FONT
