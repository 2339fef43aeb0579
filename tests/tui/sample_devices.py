"""A wired bench with one thing wrong, for tests and pictures of the Bench page."""

from __future__ import annotations

from firmware_py import __version__
from firmware_py.facts.views.bench import BenchView, DeviceView, NoticeView, ProbeView
from tests.tui.sample_bench import NOW_S, bench, lane

DEVICES = (
    DeviceView(kind="switchboard", name="switchboard", body="pins by lgpio", state="ready"),
    DeviceView(kind="relay", name="safelight", body="pin 17"),
    DeviceView(kind="relay", name="printing-lamp", body="pin 22"),
    DeviceView(kind="probe", name="tray", body="one-wire 28-0123456789ab"),
    DeviceView(kind="probe", name="jacket", body="one-wire 28-0123456789ac"),
    DeviceView(kind="foot switch", name="foot switch", body="pin 27", state="up"),
    DeviceView(kind="sounder", name="sounder", body="pin 12"),
)
PROBES = (
    ProbeView(
        name="tray",
        place="tray 1",
        bath_degC=19.63,
        tolerance_K=0.5,
        read_at_s=NOW_S - 1.0,
        offset_K=0.2,
        calibrated_utc="2030-11-02T10:00:00+00:00",
        calibrated_by="ice point",
    ),
    ProbeView(
        name="jacket",
        place="jacket",
        bath_degC=None,
        tolerance_K=None,
        read_at_s=NOW_S - 60.0,
        trouble="no answer on the bus",
    ),
)
SILENT = NoticeView(
    words="Probe jacket is silent: no answer on the bus",
    since_s=NOW_S - 60.0,
    trouble=True,
    to_do="Dry plug and cable, push the plug home; until it speaks, T takes a temperature by hand.",
)


def wired_bench(*notices: NoticeView) -> BenchView:
    return bench(lane(), probes=PROBES, devices=DEVICES, program=__version__, notices=notices)
