"""Factorial development against examples in print; tolerance: the printed figures are exact arithmetic."""

import pytest

from firmware_py.craft import appearance as craft


@pytest.mark.parametrize(
    ("appeared_s", "factor", "printed_s"),
    [
        # E. J. Wall, Dictionary of Photography, "Time, development by" (seen): 45 s, five: 3 3/4 minutes
        (45, 5, 225),
        # Modern Photography in Theory and Practice, ch. VII (seen): 15 x 7 = 105
        (15, 7, 105),
        # Cassell's Cyclopaedia of Photography, 1911-12 (seen): 9 s x 15 = 135 s
        (9, 15, 135),
        # The Wellington Photographic Handbook, p. 26 (seen): thirty seconds, ten times: 300 s
        (30, 10, 300),
    ],
)
def test_whole_times_in_print(appeared_s, factor, printed_s):
    assert craft.factorial_time(appeared_s, factor) == printed_s


@pytest.mark.parametrize(
    ("appeared_s", "time_s", "printed_factor"),
    # Practical Photography, ch. XVIII and par. 506 (seen): factors found from plates at 65 degF
    [(20, 240, 12), (25, 600, 24), (30, 1200, 40)],
)
def test_factors_found_in_print(appeared_s, time_s, printed_factor):
    assert craft.factor_used(appeared_s, time_s) == printed_factor


@pytest.mark.parametrize(
    ("parts", "printed_factor"),
    # Cassell's Cyclopaedia of Photography, 1911-12 (seen): pyro 6 and metol 30, in equal parts and 4 to 2
    [([(6, 1), (30, 1)], 18), ([(6, 4), (30, 2)], 14)],
)
def test_factors_of_mixtures_in_print(parts, printed_factor):
    assert craft.factor_of_mixture(parts) == printed_factor
