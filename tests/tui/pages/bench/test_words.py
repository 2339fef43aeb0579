"""Devices in words."""

from __future__ import annotations

import pytest
from msgspec.structs import replace

from tests.tui.sample_bench import bench
from tests.tui.sample_devices import PROBES
from tui.moment import Moment
from tui.pages.bench.words import device_lines


@pytest.mark.parametrize(
    ("name", "place", "shown"),
    [
        ("tray", "tray 1", " tray        tray 1  19.6 °C ±0.5"),
        ("developer probe", "tray 1", " developer probe tray 1  19.6 °C ±0.5"),
        ("probe in plain hypo", "plain hypo", " probe in plain hypo  19.6 °C ±0.5"),
    ],
)
def test_a_probe_stands_apart_from_its_place_which_is_said_once(name, place, shown):
    probe = replace(PROBES[0], name=name, place=place)
    view = bench(probes=(probe,))
    assert shown in device_lines(Moment(view, view.as_of_s, None, 0.0, "", 9, "bench"), 60)
