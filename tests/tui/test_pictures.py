"""The pictures of the manual are those of the pages as they are, on the demo book's evening."""

from __future__ import annotations

from tests.tui.pictures import FOLDER, PICTURES, SIZES, drawn_pictures, file_name, page_of
from tui.pages.key_table import PAGES as PAGES_SHOWN


def test_every_page_has_its_picture_in_both_sizes():
    assert {page_of(name) for name in PICTURES} == set(PAGES_SHOWN)
    drawn = {file_name(name, size) for name in PICTURES for size in SIZES}
    assert {path.name for path in FOLDER.glob("*.svg")} == drawn


async def test_the_pictures_show_the_pages_as_they_are(tmp_path):
    """On one evening, and the wide ones but for the fullest left out, as both cost.

    Drawn anew by ``python -m tests.tui.pictures``; look at each before it is committed.
    """
    narrow, wide = SIZES
    drawn = await drawn_pictures({narrow: PICTURES, wide: ("trays-six",)}, tmp_path)
    kept = {name: (FOLDER / name).read_text(encoding="utf-8") for name in drawn}
    assert [name for name, picture in drawn.items() if picture != kept[name]] == []
