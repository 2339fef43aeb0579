"""The bench device by device, in words: probes, relays, the rest, the line, the screen, and what is wrong."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from firmware_py import __version__
from firmware_py.facts.views.bench import BenchView, DeviceView, NoticeView, ProbeView, RelayView
from tui.pages.shared.bench_words import notices_in_order, relay_state
from tui.pages.shared.time_words import gone_words, printable
from tui.widgets.wrapping import wrap

if TYPE_CHECKING:
    from tui.moment import Moment

OLD_S = 5.0
NAME_WIDTH = 11


def device_lines(moment: Moment, width: int) -> list[str]:
    """Return everything that is wired to the bench, a heading above each kind, in lines of ``width``."""
    view = moment.view
    if view is None:
        return ["No bench in sight yet"]
    bodies = {(device.kind, device.name): device.body for device in view.devices}
    lines = ["PROBES"]
    for probe in view.probes:
        lines += _probe(probe, moment.now_s, bodies.get(("probe", probe.name), ""), width)
    lines += [] if view.probes else [" none: temperatures are taken by hand"]
    lines += ["RELAYS, as the switchboard reports them"]
    lost = moment.lost is not None
    lines += [_relay(relay, bodies.get(("relay", relay.name), ""), lost=lost) for relay in view.relays]
    lines += ["THE REST", *_rest(view), *_line(moment), *screen_words(moment)]
    return [part for line in lines for part in _wrapped(line, width)]


def _wrapped(line: str, width: int) -> list[str]:
    indent = "   " + " " * (len(line) - len(line.lstrip()))
    return wrap(line, width, subsequent_indent=indent) or [""]


def _probe(probe: ProbeView, now_s: float, body: str, width: int) -> Iterator[str]:
    place = "" if probe.place in probe.name else printable(probe.place)
    name = f" {printable(probe.name):<{NAME_WIDTH}} {place}".rstrip()
    age_s = now_s - probe.read_at_s
    if probe.bath_degC is None:
        yield f"{name}  NO READING: {printable(probe.trouble) or 'none yet'}"
    else:
        good_to = "" if probe.tolerance_K is None else f" ±{probe.tolerance_K:.1f}"
        old = f", {gone_words(age_s)} OLD" if age_s > OLD_S else ""
        yield f"{name}  {probe.bath_degC:.1f} °C{good_to}{old}"
        if probe.trouble:
            yield f"   ! {printable(probe.trouble)}"
    said = f"   {_calibration(probe)}"
    wired = f"{said}; {printable(body)}" if body else said
    yield wired if len(wired) <= width else said


def _calibration(probe: ProbeView) -> str:
    offset = f", offset {probe.offset_K:+.2f} K" if probe.offset_K else ""
    if not probe.calibrated_utc:
        return f"not calibrated yet{offset}"
    again = ", OVER A YEAR AGO" if probe.calibration_is_old else ""
    return f"calibrated {probe.calibrated_utc[:10]}{again}{offset}"


def _relay(relay: RelayView, body: str, *, lost: bool) -> str:
    sign, state = relay_state(relay.on, lost=lost)
    why = f", {printable(relay.why)}" if relay.why and not lost else ""
    name = printable(relay.name).replace("-", " ")
    return f" {sign} {name:<{NAME_WIDTH + 3}}{state:<3} {printable(body)}{why}"


def _rest(view: BenchView) -> list[str]:
    return [_device(device) for device in view.devices if device.kind not in {"probe", "relay"}]


def _device(device: DeviceView) -> str:
    sign = "! " if device.trouble else ""
    state = f"{sign}{printable(device.state)}" if device.state else ""
    return f" {device.kind:<{NAME_WIDTH}} {', '.join(filter(None, (state, printable(device.body))))}"


def _line(moment: Moment) -> list[str]:
    if moment.lost is not None:
        state = f"LOST for {gone_words(moment.lost_for_s)}"
    else:
        state = "open; heard just now" if moment.view is not None else "not found yet"
    program = moment.view.program if moment.view is not None else ""
    same = program == __version__
    versions = f"{printable(program)}" if same else f"{printable(program) or '?'}, THIS SCREEN {__version__}"
    return [f" {'controller':<{NAME_WIDTH}} {state}; version {versions}"]


def screen_words(moment: Moment) -> list[str]:
    """Return how bright the screen is, in the figures that a test of it with a plate needs."""
    tested = f"tested {printable(moment.tested)}" if moment.tested else "NOT TESTED with a plate"
    return [
        f" {'screen':<{NAME_WIDTH}} light {moment.brightness} of 9 is red {moment.red} of 255",
        f" {'':<{NAME_WIDTH}} brightest {moment.brightest}, {tested}",
    ]


def fault_lines(view: BenchView | None, width: int) -> list[str]:
    """Return every trouble that stands, each with what to do next."""
    troubles = [notice for notice in notices_in_order(view) if notice.trouble] if view else []
    if not troubles:
        return ["No fault stands." if view else ""]
    lines = ["FAULTS, AND WHAT TO DO"]
    for notice in troubles:
        lines += wrap(f"! {printable(notice.words)}", width, subsequent_indent="  ")
        lines += wrap(_todo(notice), width, initial_indent="  → ", subsequent_indent="    ")
    return lines


def _todo(notice: NoticeView) -> str:
    return printable(notice.to_do)
