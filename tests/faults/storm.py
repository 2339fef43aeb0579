"""Plays many sessions beside one another, each worker a process that forks its own bench."""

from __future__ import annotations

import os
import traceback
from collections.abc import Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor, as_completed
from multiprocessing import get_context

from tests.faults.plan import Plan
from tests.faults.report import SessionReport, Violation, report_on
from tests.faults.session import bench_folder, play

# Sessions mostly wait; more for each core would only make one another late.
WORKERS_PER_CORE = 2


def workers() -> int:
    return WORKERS_PER_CORE * (os.cpu_count() or 1)


def storm(plans: Sequence[Plan], *, side_by_side: int | None = None) -> Iterator[SessionReport]:
    """Play all sessions; give each report as it comes."""
    count = side_by_side or workers()
    with ProcessPoolExecutor(count, mp_context=get_context("fork"), initializer=_warm) as pool:
        for done in as_completed([pool.submit(played_and_judged, each) for each in plans]):
            yield done.result()


def played_and_judged(plan: Plan, *, defect: str = "", keep: bool = False) -> SessionReport:
    """Play one session and judge it; a harness that breaks down over it is a violation too."""
    try:
        with bench_folder(plan, keep=keep) as folder:
            return report_on(play(plan, folder, defect=defect))
    except Exception:  # noqa: BLE001 - whatever it is, the storm goes on and tells of it
        report = SessionReport(plan, [])
        words = traceback.format_exc().splitlines()
        report.violations.append(Violation(plan, "the harness itself", " | ".join(words[-6:])))
        return report


def _warm() -> None:
    from tests.faults.stage.run_controller import warm

    warm()
