"""Stops: their systems agree, engraved names mean what the maker meant, and nonsense is refused."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft import stops
from firmware_py.craft.refusal import Refused

f_number = st.floats(0.7, 512)


def test_an_engraved_whole_stop_means_the_exact_aperture():
    assert stops.read_stop("f/11", where="stop") == pytest.approx(11.3137085)
    assert stops.read_stop("f/45", where="stop") == pytest.approx(45.254834)


def test_a_stop_that_is_not_a_whole_one_means_what_it_says():
    assert stops.read_stop("f/6.3", where="stop") == 6.3
    assert stops.read_stop("f/11.3", where="stop") == 11.3


@pytest.mark.parametrize(
    "written", ["f/32", "F/32", "f 32", "f32", "f:32", "1:32", "U.S. 64", "us64", "U.S. No. 64", "uniform 64"]
)
def test_every_way_of_writing_one_stop_reads_the_same(written):
    assert stops.read_stop(written, where="stop") == pytest.approx(32)


@pytest.mark.parametrize("written", ["Stolze 2.56", "stolze 2.56", "Congress 2.56"])
def test_a_stolze_number_reads_as_its_f_number(written):
    assert stops.read_stop(written, where="stop") == pytest.approx(16)


@pytest.mark.parametrize(
    "written",
    ["8 9", "", "f/", "f/0", "f/-8", "f/9999", "U.S. 0", "Stolze 0", "wide open", "f/8 x", "ff/8", "f/8\x1b"],
)
def test_what_is_not_one_stop_is_refused_in_one_line(written):
    with pytest.raises(Refused) as refusal:
        stops.read_stop(written, where="--stop")
    assert str(refusal.value).startswith("--stop: ")
    assert "\x1b" not in str(refusal.value)


@pytest.mark.parametrize(("written", "f_number"), [("16", 16.0), ("6.3", 6.3), ("11", 11.3137085)])
def test_a_bare_number_is_an_f_number_as_the_other_systems_are_always_named(written, f_number):
    """Issue 15, number 19: "16" for a stop was refused."""
    assert stops.read_stop(written, where="stop") == pytest.approx(f_number)


def test_an_f_number_is_read_bare_and_with_its_letter():
    assert stops.read_f_number("11", where="--f") == pytest.approx(11.3137085)
    assert stops.read_f_number("f/6.3", where="--f") == 6.3


@given(f_number)
def test_each_old_system_leads_back_to_the_f_number(number):
    assert stops.f_number_from_uniform(stops.uniform_from_f_number(number)) == pytest.approx(number)
    assert stops.f_number_from_stolze(stops.stolze_from_f_number(number)) == pytest.approx(number)


@given(f_number, f_number, f_number)
def test_stops_add_up_along_the_way(first, second, third):
    whole = stops.stops_between(first, third)
    assert stops.stops_between(first, second) + stops.stops_between(second, third) == pytest.approx(
        whole, abs=1e-9
    )


@given(f_number)
def test_double_the_uniform_number_is_one_stop(number):
    one_less = stops.f_number_from_uniform(2 * stops.uniform_from_f_number(number))
    assert stops.stops_between(number, one_less) == pytest.approx(1)


def test_the_scales_of_whole_and_half_stops():
    names = [stops.name_of_stop(f) for f in stops.f_numbers(8, 32)]
    assert names == ["f/8", "f/11", "f/16", "f/22", "f/32"]
    halves = [stops.name_of_stop(f) for f in stops.f_numbers(8, 22.63, to_the_stop=2)]
    assert halves == ["f/8", "f/9.5", "f/11", "f/13", "f/16", "f/19", "f/22"]


@given(st.sampled_from(list(stops.ENGRAVED)))
def test_an_engraved_name_reads_and_names_itself_again(name):
    assert stops.name_of_stop(stops.read_stop(f"f/{name}", where="stop")) == f"f/{name}"


def test_old_odd_stops_keep_their_own_name():
    assert [stops.name_of_stop(f) for f in (4.5, 6.3, 7.7, 300, 1000)] == [
        "f/4.5",
        "f/6.3",
        "f/7.7",
        "f/300",
        "f/1000",
    ]


@pytest.mark.parametrize(("f_from", "f_to", "marks"), [(32, 8, 1), (8, 32, 4), (0.1, 8, 1)])
def test_a_scale_that_can_not_be_is_refused(f_from, f_to, marks):
    with pytest.raises(Refused):
        stops.f_numbers(f_from, f_to, to_the_stop=marks)


@given(st.text(max_size=40) | st.text("0123456789.fFUuSs/:1 ", max_size=12))
def test_hostile_text_gives_a_stop_or_one_printable_line(text):
    try:
        found: float | str = stops.read_stop(text, where="--stop")
    except Refused as refused:
        found = str(refused)
    assert found.isprintable() if isinstance(found, str) else 0.5 <= found <= 1024
