"""The top line: relays are never cut for the brightness."""

from tui.pages.shared.page import head


def test_brightness_stands_at_the_right_where_there_is_room():
    assert head(" TRAYS   safelight off", " light 6 of 9 ", 40) == " TRAYS   safelight off     light 6 of 9 "


def test_gaps_shrink_before_the_brightness_is_left_out():
    assert head(" A   b   c", " light ", 16) == " A  b  c  light "
    assert head(" A   b   c", " light ", 15) == " A  b  c       "
