"""The pictures of the manual are those of the pages as they are."""

from __future__ import annotations

import pytest

from tests.tui.pictures import FOLDER, PAGES, SIZES, file_name, page_of, picture
from tui.keys import PAGES as PAGES_SHOWN


def test_every_page_has_its_picture_in_both_sizes():
    assert {page_of(name) for name in PAGES} == set(PAGES_SHOWN)
    drawn = {file_name(name, size) for name in PAGES for size in SIZES}
    assert {path.name for path in FOLDER.glob("*.svg")} == drawn


@pytest.mark.parametrize(("name", "size"), [*((name, SIZES[0]) for name in PAGES), ("trays-six", SIZES[1])])
async def test_a_picture_shows_the_page_as_it_is(tmp_path, name, size):
    """Drawn anew by ``python -m tests.tui.pictures``; look at it before it is committed."""
    kept = FOLDER / file_name(name, size)
    assert await picture(name, size, tmp_path) == kept.read_text(encoding="utf-8")
