"""``embertray reckon stops`` names a stop in every system and changes an exposure from one to another."""

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon


def test_uniform_64_is_f_32():
    assert reckon("stops", "--uniform", "64").values["f_number"] == 32


def test_f_11_is_uniform_8():
    answer = reckon("stops", "--f", "11")
    assert answer.values["uniform"] == pytest.approx(8)
    assert answer.lines == ("f/11 is U.S. 8 and Stolze 1.28", "  exactly f/11.314")


def test_stolze_reads_too():
    assert reckon("stops", "--stolze", "2.56").values["f_number"] == 16


def test_a_change_of_stop_changes_the_time():
    answer = reckon("stops", "--stop", "f/8", "--to", "U.S. 32", "--time", "1/2 s")
    assert answer.values["stops_less_light"] == pytest.approx(3)
    assert answer.values["time_s"] == pytest.approx(4)
    assert answer.lines[-2:] == (
        "  f/22 passes 3 stops less: 8 times the exposure",
        "  1/2 s becomes 4 s",
    )


def test_a_wider_stop_passes_more():
    answer = reckon("stops", "--stop", "f/16", "--to", "f/11")
    assert answer.values["exposure_factor"] == pytest.approx(0.5)
    assert "1 stop more" in answer.lines[-1]


@pytest.mark.parametrize(
    ("words", "place"),
    [
        (("--stop", "8"), "--stop"),
        (("--uniform", "0"), "--uniform"),
        (("--stolze", "-1"), "--stolze"),
        (("--f", "0.1"), "--f"),
        (("--f", "8", "--to", "wide"), "--to"),
        (("--f", "8", "--time", "2s"), "--time"),
        (("--f", "8", "--to", "f/16", "--time", "2"), "--time"),
    ],
)
def test_what_can_not_be_read_is_refused_where_it_stands(words, place):
    if words[1] == "-1":
        words = (f"{words[0]}={words[1]}",)
    with pytest.raises(Refused) as refusal:
        reckon("stops", *words)
    assert refusal.value.where == place
