"""Invented entries of a bath, of a probe, and of what a run says of its plate."""

from __future__ import annotations

from firmware_py.facts.events import bath as be
from firmware_py.facts.events import heat as he
from firmware_py.facts.events import plate as pe
from firmware_py.facts.events import run as ev
from tests.journal.making import numbered, run_entries

MADE = be.BathMade(
    name="Pyro of Saturday",
    formula="pyro-soda",
    title="Pyro-soda, the mean of twelve",
    kind="developer",
    volume_ml=500.0,
    made_utc="2026-03-14T19:30:00+00:00",
    rehearsal=True,
    cm2_per_l=2000.0,
    keeps_s=7 * 86400.0,
    longer_percent=10.0,
    longer_every_cm2_per_l=400.0,
    works_at_degC=18.0,
)


def bath_entries(of: str, *, discarded: bool = True) -> list[ev.Entry]:
    """Return the entries of a bath with everything that can happen to one."""
    happened: list[ev.AnyEvent] = [
        MADE,
        be.BathUsed(run_id="run 1", step=0, area_cm2=199.0, plate="half plate 7"),
        be.BathClearingSeen(clearing_s=75.0, fresh=True, run_id="run 1"),
        be.BathUsed(run_id="run 2", step=0, area_cm2=199.0, plate="half plate 8"),
        be.BathClearingSeen(clearing_s=120.0),
        be.BathDated(made_utc="2026-03-14T18:30:00+00:00"),
        be.BathWarmthSet(works_at_degC=20.0),
        ev.NoteWritten(text="a little brown"),
    ]
    if discarded:
        happened.append(be.BathDiscarded(why="brown"))
    return numbered(of, [(60.0 * n, event) for n, event in enumerate(happened)])


def probe_entries(of: str) -> list[ev.Entry]:
    """Return the entries of a probe that was held in melting ice."""
    calibrated = he.ProbeCalibrated(
        method="ice point",
        offset_K=-0.1875,
        tolerance_K=0.118,
        reference_degC=0.0,
        read_degC=0.1875,
        readings=15,
    )
    happened: list[ev.AnyEvent] = [he.ProbeMet(probe="tray 1", serial="28-0123456789ab"), calibrated]
    return numbered(of, [(60.0 * n, event) for n, event in enumerate(happened)])


def lit_run_entries(of: str) -> list[ev.Entry]:
    """Return a run whose plate is described, lit by the safelight, and developed in a named bath."""
    begun = [(one.boot_s - 1000.0, one.event) for one in run_entries(of, readings=3, ended=False)]
    described = pe.PlateDescribed(
        size="English half plate", area_cm2=199.19, emulsion="home ripened", sensitivity="blue"
    )
    extra: list[tuple[float, ev.AnyEvent]] = [
        (1.0, described),
        (2.0, pe.LightFell(light="safelight", on=True)),
        (5.0, pe.BathNamed(step=0, bath_id="bath 1", bath="Pyro of Saturday", times_longer=1.05)),
        (62.0, pe.LightFell(light="safelight", on=False)),
    ]
    return numbered(of, sorted([*begun, *extra], key=lambda pair: pair[0]))
