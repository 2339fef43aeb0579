"""Positions: every way of writing one place reads the same, and what is off the globe is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.place import Place, read_place
from firmware_py.craft.refusal import Refused


@pytest.mark.parametrize(
    "written",
    [
        "56.05,-2.72", " 56.05 , -2.72 ", "56.05 -2.72", "56.05N 2.72W",
        "56.05 n, 2.72 w", "56.05° N, 2.72° W",
        "56°03'N 2°43.2'W", "56°03'00\"N, 002°43'12\"W", "56°03′N 2°43′12″W",
        "+56.05-002.72/", "+5603-00243.2/", "+560300-0024312/", "+56.05-002.72",
    ],
)  # fmt: skip
def test_every_way_of_writing_one_place_reads_the_same(written):
    place = read_place(written, where="--at")
    assert place.latitude_deg == pytest.approx(56.05)
    assert place.longitude_deg == pytest.approx(-2.72)
    assert place.height_m is None


def test_the_height_of_iso_6709_is_read():
    assert read_place("+27.9881+086.9250+8848.86CRSWGS_84/", where="--at").height_m == 8848.86
    assert read_place("-90+000-12/", where="--at") == Place(-90, 0, -12)


@given(st.floats(-90, 90), st.floats(-180, 180))
def test_decimal_degrees_read_back(latitude, longitude):
    place = read_place(f"{latitude:.6f},{longitude:.6f}", where="--at")
    assert place.latitude_deg == pytest.approx(latitude, abs=1e-6)
    assert place.longitude_deg == pytest.approx(longitude, abs=1e-6)


@pytest.mark.parametrize(
    "written",
    [
        "", "56.05", "56.05,", "91,0", "0,181", "-56N 2W", "56°60'N 2°W", "56°61'N 2°00'W", "+5660-00243/",
        "56.05,-2.72,3", "north", "nan,nan", "1e2,3", "+56.05-02.72/", "56.05,-2.72\x1b[31m",
    ],
)  # fmt: skip
def test_what_is_not_a_place_is_refused_in_one_line(written):
    with pytest.raises(Refused) as refusal:
        read_place(written, where="--at")
    assert str(refusal.value).startswith("--at: ")
    assert str(refusal.value).isprintable()


@given(st.text(max_size=40) | st.text("0123456789.,+-°'\"NSEW/ ", max_size=24))
def test_hostile_text_gives_a_place_or_one_printable_line(text):
    try:
        found: Place | str = read_place(text, where="--at")
    except Refused as refused:
        found = str(refused)
    if isinstance(found, Place):
        assert abs(found.latitude_deg) <= 90
        assert abs(found.longitude_deg) <= 180
    else:
        assert found.isprintable()
