"""The lamp benchmark's own reckoning: no timed assertion, only that it counts right."""

import pytest

from tests.benchmarks.bare_timer import rests_s
from tests.benchmarks.pulses import durations_s, errors_s, in_step


def test_the_pulses_are_as_many_as_asked_and_from_50_ms_to_8_s():
    planned_s = durations_s(1000)
    assert len(planned_s) == 1000
    assert (min(planned_s), max(planned_s)) == (0.05, 8.0)
    assert len(durations_s(40)) == 40
    assert sum(durations_s(40)) < 5.0


def test_the_error_is_what_the_pin_was_on_longer_than_planned(tmp_path):
    record = tmp_path / "pins.txt"
    record.write_text(
        "1.000000 17 out 0\n2.000000 17 out 1\n2.050100 17 out 0\n3.000000 17 out 1\n3.049900 17 out 0\n"
    )
    assert errors_s(record, [0.05, 0.05]) == pytest.approx([0.0001, -0.0001])
    with pytest.raises(RuntimeError, match="3 pulses were asked for, the pin shows 2"):
        errors_s(record, [0.05] * 3)


def test_moments_in_step_with_a_period_are_told_from_scattered_ones():
    assert in_step([]) == 0
    assert in_step([0.087 + n / 10 for n in range(9)] + [5.021]) == 9
    assert in_step([0.0995, 0.2005, 0.3010]) == 3
    assert in_step([n * 0.1 + n * 0.01 for n in range(10)]) == 1


def test_the_rests_are_never_the_same():
    rests = rests_s()
    found_s = [next(rests) for _ in range(50)]
    assert len(set(found_s)) == 50
    assert all(0.005 <= rest_s <= 0.025 for rest_s in found_s)
