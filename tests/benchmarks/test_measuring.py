"""The benchmarks' own yardsticks: no timed assertion, only that they count right and clean up."""

from __future__ import annotations

import os

import pytest

from tests.benchmarks.measuring import (
    Spread,
    cores_busy,
    cpu_s,
    garbage_collected,
    json_and_sqlite,
    machine,
    resident_kB,
    table,
    thread_busy,
)


def test_a_spread_names_values_that_were_measured():
    spread = Spread.of([float(n) for n in range(1000, 0, -1)])
    assert spread == Spread(1000, 500.0, 990.0, 999.0, 1000.0)
    assert Spread.of([3.0]) == Spread(1, 3.0, 3.0, 3.0, 3.0)


def test_a_table_has_its_figures_under_their_head():
    rows = [("idle", *Spread.of([0.5, 2.0]).cells(0.001))]
    assert table(("way", "n", "median", "p99", "p99.9", "worst"), rows).splitlines() == [
        "way   n  median      p99    p99.9    worst",
        "idle  2   500.0  2,000.0  2,000.0  2,000.0",
    ]


def test_other_cores_spin_only_meanwhile():
    before = set(_children())
    with cores_busy(2):
        spinning = set(_children()) - before
        assert len(spinning) == 2
    assert not spinning & set(_children())


def test_a_thread_works_meanwhile_and_then_stops(tmp_path):
    turns = []
    with thread_busy(lambda: turns.append(1)):
        while len(turns) < 3:
            pass
    done = len(turns)
    with garbage_collected(objects=100), json_and_sqlite(tmp_path, rows=5):
        pass
    assert len(turns) == done


def test_an_error_in_the_load_fails_the_benchmark():
    def breaks():
        raise OSError("disk full")

    with pytest.raises(OSError, match="disk full"), thread_busy(breaks):
        pass


def test_a_process_s_own_figures_are_read():
    assert cpu_s(os.getpid()) > 0
    assert resident_kB(os.getpid()) > 1000
    assert "cores" in machine()


def _children():
    with open(f"/proc/self/task/{os.getpid()}/children", encoding="ascii") as children:  # noqa: PTH123 - a kernel file
        return children.read().split()
