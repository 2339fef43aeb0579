"""Stops and extension against tables in print."""

import pytest

from firmware_py.craft import stops

# Wall, Dictionary of Photography, and Practical Photography par. 77 (both seen): f-number and U.S. number.
# Exact for whole stops, as print rounds only the f-number; the two odd stops to the printed digits.
UNIFORM = [
    ("f/4", 1), ("f/5.6", 2), ("f/8", 4), ("f/11", 8), ("f/16", 16), ("f/22", 32), ("f/32", 64),
    ("f/45", 128), ("f/64", 256),
]  # fmt: skip
ODD = [("f/4.5", 1.26, 0.006), ("f/6.3", 2.5, 0.025)]

# Hints to Travellers (Royal Geographical Society), 10th ed., vol. 2 (seen): U.S. numbers against f-numbers
# printed to one decimal; tolerance half a unit of that digit and a little, as it cuts 45.25 to 45.2.
TRAVELLERS = [(4, 8), (8, 11.3), (16, 16), (32, 22.6), (64, 32), (128, 45.2), (256, 64)]


@pytest.mark.parametrize(("stop", "uniform"), UNIFORM)
def test_uniform_system_as_printed(stop, uniform):
    assert stops.uniform_from_f_number(stops.read_stop(stop, where="print")) == pytest.approx(
        uniform, rel=1e-12
    )


@pytest.mark.parametrize(("stop", "uniform", "tolerance"), ODD)
def test_odd_stops_as_printed(stop, uniform, tolerance):
    assert stops.uniform_from_f_number(stops.read_stop(stop, where="print")) == pytest.approx(
        uniform, abs=tolerance
    )


@pytest.mark.parametrize(("uniform", "f_number"), TRAVELLERS)
def test_the_travellers_table(uniform, f_number):
    assert stops.f_number_from_uniform(uniform) == pytest.approx(f_number, abs=0.06)


def test_stolze_counts_from_f_10():
    """Wall, Dictionary of Photography (seen): the Congress of 1889 took f/10 as its unit, numbers by area."""
    assert stops.stolze_from_f_number(10) == 1
    assert stops.f_number_from_stolze(4) == 20
