"""Extension and reciprocity against numbers in print."""

import pytest

from firmware_py.craft import camera

# Debenham's table in Practical Photography par. 793-797 (seen): magnification, factor.
# Printed to two decimals; tolerance half a unit of the last, a little more where 2.25 and 1.5625 are exact.
DEBENHAM = [
    (1 / 30, 1.07), (1 / 10, 1.21), (1 / 8, 1.27), (1 / 6, 1.36), (1 / 4, 1.56), (1 / 2, 2.25),
    (1, 4), (2, 9),
]  # fmt: skip


@pytest.mark.parametrize(("magnification", "factor"), DEBENHAM)
def test_debenhams_table(magnification, factor):
    assert camera.extension_factor(magnification) == pytest.approx(factor, abs=0.0051)


def test_ten_seconds_by_schwarzschild():
    """Schwarzschild's exponent 0.86 (seen in a handbook); 10^(1/0.86) worked, rounded to a tenth."""
    assert camera.needed_time_s(10) == pytest.approx(14.5, abs=0.05)
