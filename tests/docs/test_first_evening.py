"""The keys of the manual's first evening are keys of the page that it has turned to by then."""

from __future__ import annotations

from tests.first_evening import NAMES, key_lines, keys_in
from tui.pages.key_table import EVERYWHERE, PAGE_KEYS
from tui.pages.shared.page_names import PAGE_NAMES, PageName


def test_every_key_of_the_first_evening_is_one_of_its_page():
    """``python -m tests.first_evening`` presses them; this only holds that they are there."""
    page: PageName = "trays"
    turned = set[PageName]()
    for line in key_lines():
        presses = list(keys_in(line))
        if line.startswith("0 "):
            page = PAGE_NAMES[int(line.split()[1]) - 1]
            turned.add(page)
        known = {key for use in (*PAGE_KEYS[page], *EVERYWHERE) for key in use.keys}
        known |= {*"123456789y", *NAMES.values()}  # what answers a question
        typed = {key for press in presses if len(press) > 1 for key in press}
        assert {key for press in presses for key in press} - typed <= known, (page, line)
        if page == "plates" and line.startswith("O "):
            page = "trays"  # a run that is opened there goes on here
    assert turned == {"plates", "baths", "logbook", "lamp"}
