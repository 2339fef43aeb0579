"""The golden section finds the bottom of a dip."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from firmware_py.craft.search import golden_section


@given(bottom=st.floats(-5, 5), steep=st.floats(0.1, 10))
def test_the_bottom_of_one_dip_is_found(bottom, steep):
    found = golden_section(lambda x: abs(x - bottom) * steep, -6.0, 6.0, within=1e-6)
    assert found == pytest.approx(bottom, abs=1e-6)


def test_it_agrees_with_a_general_library():
    """scipy.optimize.minimize_scalar, method "bounded", on a lop-sided dip."""

    def cost(x: float) -> float:
        return (x - 0.3) ** 4 + 0.2 * x

    library = minimize_scalar(cost, bounds=(-2.0, 2.0), method="bounded", options={"xatol": 1e-9})
    assert golden_section(cost, -2.0, 2.0, within=1e-7) == pytest.approx(library.x, abs=1e-5)


def test_each_step_costs_one_call():
    calls: list[float] = []

    def cost(x: float) -> float:
        calls.append(x)
        return x * x

    golden_section(cost, -1.0, 1.0, within=0.01)
    assert len(calls) == len(set(calls)) == 14
