"""The physics of a rehearsal: laws held, steps exact, the same every time, and refusals."""

from __future__ import annotations

import math
import statistics

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.craft.simulation import (
    CoolingTray,
    FilamentLamp,
    GrowingImage,
    QuantisedProbe,
    RecordedTrace,
    TrayOnJacket,
)

FEW = settings(max_examples=50, deadline=None)
warm = st.floats(10.0, 30.0)


def test_a_tray_is_half_way_to_the_room_after_its_half_time():
    tray = CoolingTray(start_degC=24.0, room_degC=16.0, minutes_to_half=20.0)
    assert tray.bath_degC(0.0) == 24.0
    assert tray.bath_degC(1200.0) == pytest.approx(20.0, abs=1e-12)
    assert tray.bath_degC(2400.0) == pytest.approx(18.0, abs=1e-12)


@FEW
@given(warm, warm, st.floats(1.0, 100.0), st.floats(0.0, 7200.0), st.floats(0.0, 7200.0))
def test_a_tray_stopped_and_started_again_cools_as_if_it_had_not_been(start, room, half, one_s, two_s):
    whole = CoolingTray(start, room, half).bath_degC(one_s + two_s)
    middle = CoolingTray(start, room, half).bath_degC(one_s)
    assert CoolingTray(middle, room, half).bath_degC(two_s) == pytest.approx(whole, abs=1e-9)


@pytest.mark.parametrize("half", [0.0, -1.0, math.inf, math.nan])
def test_a_tray_without_a_half_time_is_refused(half):
    with pytest.raises(Refused, match="minutes_to_half"):
        CoolingTray(20.0, 18.0, half)


def test_a_tray_has_no_past():
    with pytest.raises(Refused, match="time_s"):
        CoolingTray(20.0, 18.0, 20.0).bath_degC(-1.0)


@FEW
@given(warm, warm, warm, st.floats(0.0, 500.0), st.integers(1, 20))
def test_a_jacket_advanced_in_many_steps_comes_where_one_step_comes(bath, jacket, room, watts, steps):
    one, many = TrayOnJacket(bath, jacket, room), TrayOnJacket(bath, jacket, room)
    one.advance(600.0, watts)
    for _ in range(steps):
        many.advance(600.0 / steps, watts)
    assert many.bath_degC == pytest.approx(one.bath_degC, abs=1e-9)
    assert many.jacket_degC == pytest.approx(one.jacket_degC, abs=1e-9)


def test_a_jacket_obeys_its_two_cooling_laws_at_every_moment():
    body = TrayOnJacket(18.0, 22.0, 15.0)
    tiny = TrayOnJacket(18.0, 22.0, 15.0)
    tiny.advance(1e-3, 100.0)
    bath_W = body.exchange_W_per_K * 4.0 - body.bath_loss_W_per_K * 3.0
    jacket_W = 100.0 - body.exchange_W_per_K * 4.0 - body.jacket_loss_W_per_K * 7.0
    assert (tiny.bath_degC - 18.0) / 1e-3 == pytest.approx(bath_W / (4.18 * 300.0), rel=1e-4)
    assert (tiny.jacket_degC - 22.0) / 1e-3 == pytest.approx(jacket_W / (4.18 * 3000.0), rel=1e-4)


def test_at_rest_the_heater_gives_just_what_the_room_takes():
    body = TrayOnJacket(18.0, 18.0, 16.0)
    body.advance(1e6, 60.0)
    lost_W = body.bath_loss_W_per_K * (body.bath_degC - 16.0) + body.jacket_loss_W_per_K * (
        body.jacket_degC - 16.0
    )
    assert lost_W == pytest.approx(60.0, rel=1e-9)


def test_the_tray_lags_behind_its_jacket_when_the_heater_goes_on():
    body = TrayOnJacket(18.0, 18.0, 18.0)
    body.advance(30.0, 300.0)
    assert body.jacket_degC - 18.0 > 5 * (body.bath_degC - 18.0) > 0


@pytest.mark.parametrize(("seconds", "watts"), [(-1.0, 0.0), (1.0, -1.0), (math.nan, 0.0), (1.0, math.inf)])
def test_a_jacket_refuses_time_and_heat_that_cannot_be(seconds, watts):
    body = TrayOnJacket(18.0, 18.0, 18.0)
    with pytest.raises(Refused):
        body.advance(seconds, watts)
    assert (body.bath_degC, body.jacket_degC) == (18.0, 18.0)


def test_a_probe_reads_in_its_steps():
    probe = QuantisedProbe(step_K=0.0625, noise_K=0.02, seed=7)
    for number in range(100):
        assert (probe.reading(19.37, number) / 0.0625).is_integer()


def test_two_probes_of_one_seed_agree_in_whatever_order_they_are_read():
    one, two = QuantisedProbe(step_K=0.0, seed=3), QuantisedProbe(step_K=0.0, seed=3)
    forward = [one.reading(20.0, number) for number in range(50)]
    backward = [two.reading(20.0, number) for number in reversed(range(50))]
    assert forward == backward[::-1]


def test_the_noise_of_a_seed_never_changes_between_releases():
    """Pinned, own output: old rehearsals must replay."""
    probe = QuantisedProbe(step_K=0.0, noise_K=1.0, seed=1)
    assert [round(probe.reading(0.0, number), 6) for number in range(3)] == [-0.13324, -0.342468, 0.098312]


def test_the_noise_has_the_spread_it_was_asked_for_and_no_bias():
    readings = [QuantisedProbe(step_K=0.0, noise_K=0.5, seed=11).reading(20.0, n) for n in range(4000)]
    assert statistics.fmean(readings) == pytest.approx(20.0, abs=0.03)
    assert statistics.stdev(readings) == pytest.approx(0.5, rel=0.05)


def test_neighbouring_seeds_give_other_noise():
    first = [QuantisedProbe(seed=1, step_K=0.0).reading(20.0, n) for n in range(20)]
    second = [QuantisedProbe(seed=2, step_K=0.0).reading(20.0, n) for n in range(20)]
    assert not set(first) & set(second)


def test_a_trace_is_the_straight_line_between_its_points():
    trace = RecordedTrace([(0.0, 21.0), (480.0, 16.0), (600.0, 16.0)])
    assert trace.bath_degC(0.0) == 21.0
    assert trace.bath_degC(96.0) == pytest.approx(20.0)
    assert trace.bath_degC(480.0) == 16.0
    assert trace.bath_degC(600.0) == 16.0


@pytest.mark.parametrize("time_s", [-0.001, 600.001, math.nan, math.inf])
def test_a_trace_is_refused_outside_its_span(time_s):
    with pytest.raises(Refused, match="0 s to 600 s"):
        RecordedTrace([(0.0, 21.0), (600.0, 16.0)]).bath_degC(time_s)


@pytest.mark.parametrize(
    ("points", "place"),
    [
        ([(0.0, 20.0)], "at least two"),
        ([(0.0, 20.0), (0.0, 20.0)], "point 2"),
        ([(0.0, 20.0), (5.0, 20.0), (4.0, 20.0)], "point 3"),
        ([(0.0, 20.0), (1.0, math.nan)], "point 2"),
        ([(0.0, 20.0), (math.inf, 20.0)], "point 2"),
    ],
)
def test_a_trace_that_cannot_be_is_refused_at_its_point(points, place):
    with pytest.raises(Refused, match=place):
        RecordedTrace(points)


def test_a_lamp_reaches_ninety_percent_in_its_rise_and_a_tenth_in_its_fall():
    lamp = FilamentLamp(rise_s=0.10, fall_s=0.04)
    assert lamp.light(0.10, 8.0) == pytest.approx(0.9)
    assert lamp.light(8.04, 8.0) == pytest.approx(0.1)
    assert lamp.light(0.0, 8.0) == 0.0


@FEW
@given(st.floats(0.01, 0.5), st.floats(0.01, 0.5), st.floats(0.0, 5.0))
def test_the_effective_light_is_the_area_under_the_light(rise, fall, on_s):
    lamp = FilamentLamp(rise, fall)
    step = (on_s + 4.0) / 20000
    area = sum(lamp.light((n + 0.5) * step, on_s) for n in range(20000)) * step
    assert lamp.effective_s(on_s) == pytest.approx(area, abs=1e-3)


def test_a_long_start_loses_the_lag():
    lamp = FilamentLamp(0.38, 0.19)
    assert 20.0 - lamp.effective_s(20.0) == pytest.approx(lamp.lag_s, abs=1e-9)


def test_a_perfect_lamp_loses_nothing():
    assert FilamentLamp(0.0, 0.0).effective_s(1.25) == 1.25
    assert FilamentLamp(0.0, 0.0).effective_s(0.0) == 0.0


def test_the_image_appears_then_shadow_detail_shows():
    plate = GrowingImage(appears_s=40.0, shadow_detail_s=150.0)
    assert plate.signs(39.9) == ()
    assert plate.signs(40.0) == ("image appears",)
    assert plate.signs(150.0) == ("image appears", "shadow detail shows")


def test_a_developer_at_half_speed_shows_the_image_after_twice_the_time():
    assert GrowingImage(appears_s=40.0).shows_at_s("image appears", relative_rate=0.5) == 80.0


@FEW
@given(st.floats(0.0, 3000.0), st.floats(0.0, 3000.0))
def test_contrast_only_grows_and_stays_below_its_end(one_s, two_s):
    plate = GrowingImage()
    early, late = sorted((one_s, two_s))
    assert 0.0 <= plate.gamma(early) <= plate.gamma(late) <= plate.gamma_inf


def test_shadow_detail_before_the_image_is_refused():
    with pytest.raises(Refused, match="after the image appears"):
        GrowingImage(appears_s=100.0, shadow_detail_s=90.0)
