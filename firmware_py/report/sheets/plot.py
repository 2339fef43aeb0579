"""The picture of a development: the bath's temperature above, the equivalent time below, black on white."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from io import StringIO
from typing import Any

import matplotlib as mpl
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.ticker import MaxNLocator

from firmware_py.report.sheets.page import Curve, CurvePoint

MM_PER_INCH = 25.4
WIDTH_MM, HEIGHT_MM = 178.0, 54.0
# The same picture on any machine: no settings of the user's, no date, no random ids.
_SETTINGS: dict[Any, Any] = {  # keys: matplotlib's own literals
    "font.family": ["DejaVu Sans"],
    "font.size": 7.5,
    "axes.linewidth": 0.6,
    "svg.hashsalt": "embertray",
    "pdf.fonttype": 42,
    "text.parse_math": False,
}
_READ = frozenset({"probe", "trace"})


@contextmanager
def fixed_settings(svg_fonttype: str) -> Iterator[None]:
    """Draw with our own settings: ``svg_fonttype`` "none" keeps text as text, "path" draws it."""
    with mpl.rc_context():
        mpl.rcdefaults()
        mpl.rcParams.update({**_SETTINGS, "svg.fonttype": svg_fonttype})
        yield


def curve_svg(curve: Curve) -> str:
    """Return the picture as an SVG element to stand in a page of HTML."""
    with fixed_settings("none"):
        figure = Figure(figsize=(WIDTH_MM / MM_PER_INCH, HEIGHT_MM / MM_PER_INCH))
        draw_curve(figure, curve, (0.0, 0.0, 1.0, 1.0))
        text = StringIO()
        figure.savefig(text, format="svg", metadata={"Date": None, "Creator": None})
    svg = text.getvalue()
    return svg[svg.index("<svg") :].replace("<svg ", '<svg role="img" ', 1)


def draw_curve(figure: Figure, curve: Curve, place: tuple[float, float, float, float]) -> None:
    """Draw the picture into a part of a figure: left, bottom, width, height in fractions of it."""
    left, bottom, width, height = place
    inner = (left + 0.07 * width, 0.92 * width)
    upper = figure.add_axes((inner[0], bottom + 0.55 * height, inner[1], 0.37 * height))
    lower = figure.add_axes((inner[0], bottom + 0.10 * height, inner[1], 0.37 * height))
    _temperature(upper, curve)
    _equivalent(lower, curve)
    _shared(upper, lower, curve)


def _temperature(axes: Axes, curve: Curve) -> None:
    minutes = _minutes(curve)
    bath = [point.bath_degC for point in curve.points]
    low = [point.bath_degC - point.tolerance_K for point in curve.points]
    high = [point.bath_degC + point.tolerance_K for point in curve.points]
    axes.fill_between(minutes, low, high, color="0.85", linewidth=0)
    axes.plot(minutes, bath, color="black", linewidth=1.1)
    _signs(axes, curve, "hand", "o")
    for source in dict.fromkeys(point.source for point in curve.points if point.source not in _READ):
        if source != "hand":
            _signs(axes, curve, source, "x")
    axes.axhline(curve.reference_degC, color="black", linewidth=0.7, linestyle=(0, (6, 4)))
    middle = (max(bath) + min(bath)) / 2
    half = max(1.0, (max([*high, curve.reference_degC]) - min([*low, curve.reference_degC])) * 0.55)
    if abs(curve.reference_degC - middle) < half:
        axes.set_ylim(middle - half, middle + half)
    axes.set_ylabel("bath, °C")


def _signs(axes: Axes, curve: Curve, source: str, sign: str) -> None:
    points = [point for point in curve.points if point.source == source]
    times = [point.elapsed_s / 60 for point in points]
    axes.plot(
        times,
        [point.bath_degC for point in points],
        sign,
        color="black",
        markersize=4,
        markeredgewidth=0.8,
        markerfacecolor="white",
    )


def _equivalent(axes: Axes, curve: Curve) -> None:
    minutes = _minutes(curve)
    axes.plot(minutes, minutes, color="0.55", linewidth=0.8, linestyle=":")
    axes.plot(minutes, [point.equivalent_s / 60 for point in curve.points], color="black", linewidth=1.1)
    axes.axhline(curve.target_s / 60, color="black", linewidth=0.7, linestyle=(0, (6, 4)))
    axes.set_ylim(bottom=0, top=max(curve.target_s / 60, _last(curve).equivalent_s / 60) * 1.22 + 0.01)
    axes.set_ylabel(f"min at {curve.reference_degC:g} °C")


def _shared(upper: Axes, lower: Axes, curve: Curve) -> None:
    most = max([_last(curve).elapsed_s, *(mark.elapsed_s for mark in curve.marks), 1.0]) / 60
    for axes in (upper, lower):
        axes.set_xlim(0, most * 1.02)
        axes.grid(color="0.85", linewidth=0.4)
        axes.set_axisbelow(True)
        for mark in curve.marks:
            axes.axvline(mark.elapsed_s / 60, color="black", linewidth=0.6)
        axes.yaxis.set_major_locator(MaxNLocator(4, steps=[1, 2, 5, 10]))
    upper.tick_params(labelbottom=False)
    _numbers(upper, curve, most)


def _numbers(axes: Axes, curve: Curve, most_min: float) -> None:
    """Number the marks above the picture; one close to its neighbour stands higher."""
    last_min, lift_pt = -most_min, 2
    for mark in sorted(curve.marks, key=lambda one: one.elapsed_s):
        at_min = mark.elapsed_s / 60
        lift_pt = 9 if at_min - last_min < 0.025 * most_min and lift_pt == 2 else 2
        axes.annotate(
            f"{mark.number}",
            (at_min, 1.0),
            xycoords=("data", "axes fraction"),
            xytext=(0, lift_pt),
            textcoords="offset points",
            ha="center",
            weight="bold",
        )
        last_min = at_min


def _minutes(curve: Curve) -> list[float]:
    return [point.elapsed_s / 60 for point in curve.points]


def _last(curve: Curve) -> CurvePoint:
    return curve.points[-1]
