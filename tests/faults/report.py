"""What came of a storm: a row for each fault and each invariant, and how to replay what did not hold."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field

from tests.faults.invariants import INVARIANTS, judged
from tests.faults.invariants.case import Case
from tests.faults.plan import Plan
from tests.faults.session import Played


@dataclass(frozen=True)
class Violation:
    """A check that did not hold, in which session, and what was found."""

    plan: Plan
    invariant: str
    words: str

    def lines(self) -> Iterator[str]:
        faults = " and ".join(blow.fault for blow in self.plan.blows)
        yield f"VIOLATION of {self.invariant!r}, session {self.plan.session} ({faults}): {self.words}"
        yield f"  replay: {self.plan.replay()}"


@dataclass
class SessionReport:
    """What one session brought: its faults, how many checks of each invariant, what did not hold."""

    plan: Plan
    struck: list[str]
    checks: Counter[str] = field(default_factory=Counter)
    violations: list[Violation] = field(default_factory=list)
    lasted_s: float = 0.0
    withheld_s: float = 0.0


def report_on(played: Played) -> SessionReport:
    """Judge a session."""
    evidence = played.evidence
    report = SessionReport(played.plan, [struck.fault for struck in evidence.struck])
    report.lasted_s = evidence.over_s - evidence.began_s
    report.withheld_s = evidence.stall(evidence.began_s, evidence.over_s)
    for invariant, verdict in judged(Case(played)):
        report.checks[invariant.name] += 1
        if not verdict.held:
            report.violations.append(Violation(played.plan, invariant.name, verdict.words))
    return report


def table(reports: Iterable[SessionReport]) -> Iterator[str]:
    """Give the lines of the two tables and of all violations."""
    reports = list(reports)
    yield from _by_fault(reports)
    yield ""
    yield from _by_invariant(reports)
    yield ""
    for report in reports:
        for violation in report.violations:
            yield from violation.lines()
    yield _sum(reports)


def _by_fault(reports: list[SessionReport]) -> Iterator[str]:
    times: Counter[str] = Counter()
    checks: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    for report in reports:
        times.update(report.struck)
        for fault in set(report.struck):
            checks[fault] += report.checks.total()
            wrong[fault] += len(report.violations)
    yield f"{'fault':34}{'injected':>9}{'checks':>9}{'violations':>12}"
    for fault in sorted(times):
        yield f"{fault:34}{times[fault]:9}{checks[fault]:9}{wrong[fault]:12}"


def _by_invariant(reports: list[SessionReport]) -> Iterator[str]:
    checks: Counter[str] = Counter()
    wrong: Counter[str] = Counter()
    for report in reports:
        checks.update(report.checks)
        wrong.update(violation.invariant for violation in report.violations)
    yield f"{'invariant':52}{'checks':>9}{'violations':>12}"
    for each in INVARIANTS:
        yield f"{each.number}. {each.name:49}{checks[each.name]:9}{wrong[each.name]:12}"


def _sum(reports: list[SessionReport]) -> str:
    violations = sum(len(report.violations) for report in reports)
    checks = sum(report.checks.total() for report in reports)
    faults = sum(len(report.struck) for report in reports)
    slowest = max((report.lasted_s for report in reports), default=0.0)
    withheld = sum(report.withheld_s for report in reports) / max(1.0, sum(r.lasted_s for r in reports))
    return (
        f"{len(reports)} sessions, {faults} faults, {checks} checks, {violations} violations; "
        f"the longest session took {slowest:.1f} s; the machine withheld {100 * withheld:.0f} % of the time"
    )
