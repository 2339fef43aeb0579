"""How exactly the lamp is on: ``python -m tests.benchmarks.lamp [--quick] [--pulses N]``.

The error of the on-time at the pin, by the mock pin's own record, for exposures of 50 ms to 8 s: by the
switchboard and, beside it in the same run, by gpiozero's background blink, `threading.Timer` and an asyncio
timer; idle and under three loads. Then the time from the foot's touch to the lamp.
Goal: p99.9 under 1 ms by the switchboard in every load, and 20 times better than the best peer under load.
"""

import argparse
import asyncio
import os
import tempfile
from contextlib import nullcontext
from pathlib import Path

from firmware_py.devices.debounce import SETTLE_S
from tests.benchmarks.measuring import Spread, cores_busy, garbage_collected, json_and_sqlite, machine, table
from tests.benchmarks.pulses import SWITCHBOARD, WAYS, durations_s, errors_s, foot_to_lamp_s

FULL, QUICK = 1000, 40
PRESSES = 200
GOAL_S = 0.001
MICROSECOND_S = 1e-6
HEAP_OBJECTS = 100_000


def memory_folder():
    """Return a folder in memory for the pins' records: a busy disk must not hold up the observer."""
    shared = Path("/dev/shm")
    return shared if os.access(shared, os.W_OK) else None


def loads(folder):
    """Return what keeps the machine or the controller busy meanwhile, by name."""
    return {
        "idle": nullcontext,
        "cores busy": lambda: cores_busy(os.cpu_count() or 1),
        "JSON + SQLite": lambda: json_and_sqlite(folder),
        "forced GC": lambda: garbage_collected(HEAP_OBJECTS),
    }


def measure_pulses(folder, loads, pulses):
    """Return ``{(load, way): spread}`` of the absolute errors of the on-time."""
    spreads = {}
    for load, put_on in loads.items():
        for way, expose in WAYS.items():
            planned_s = durations_s(pulses if way == SWITCHBOARD else max(QUICK, pulses // 3))
            record = folder / f"{load}-{way}.txt"
            with put_on():
                asyncio.run(expose(record, planned_s))
            spreads[load, way] = Spread.of([abs(error_s) for error_s in errors_s(record, planned_s)])
            print(f"  {load}, {way}: done", flush=True)
    return spreads


def measure_foot(folder, loads, presses):
    """Return ``{load: spread}`` of the times from the first touch to the lamp, less the settling time."""
    spreads = {}
    for load, put_on in loads.items():
        with put_on():
            late_s = asyncio.run(foot_to_lamp_s(folder / f"foot-{load}.txt", presses, SETTLE_S))
        spreads[load] = Spread.of([total_s - SETTLE_S for total_s in late_s])
    return spreads


def verdict(spreads, load):
    """Return how the switchboard's p99.9 stands to the goal and to the best peer, as cells of a table."""
    ours = spreads[load, SWITCHBOARD].p99_9
    peers = {way: spread.p99_9 for (where, way), spread in spreads.items() if where == load}
    del peers[SWITCHBOARD]
    best = min(peers, key=lambda way: peers[way])
    goal = "yes" if ours < GOAL_S else "NO"
    figures = (
        f"{ours / MICROSECOND_S:,.0f}",
        f"{peers[best] / MICROSECOND_S:,.0f}",
        f"{peers[best] / ours:,.0f}",
    )
    return (load, *figures, best, goal)


def main():
    """Measure and print."""
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("--quick", action="store_true", help="two minutes instead of a quarter of an hour")
    words.add_argument("--pulses", type=int, help=f"pulses by the switchboard in each load (default {FULL})")
    asked = words.parse_args()
    pulses = asked.pulses or (QUICK if asked.quick else FULL)
    print(machine())
    with tempfile.TemporaryDirectory() as disk, tempfile.TemporaryDirectory(dir=memory_folder()) as memory:
        put_on, folder = loads(Path(disk)), Path(memory)
        spreads = measure_pulses(folder, put_on, pulses)
        head = ("error of the on-time [us]", "pulses", "median", "p99", "p99.9", "worst")
        rows = [(f"{load}: {way}", *spread.cells(MICROSECOND_S)) for (load, way), spread in spreads.items()]
        print("\n" + table(head, rows))
        head = (
            "p99.9 [us]",
            "switchboard",
            "best peer",
            "times better",
            "peer",
            f"under {GOAL_S * 1000:g} ms",
        )
        print("\n" + table(head, [verdict(spreads, load) for load in put_on]))
        feet = measure_foot(folder, put_on, QUICK if asked.quick else PRESSES)
        head = (
            f"touch to lamp beyond {SETTLE_S * 1000:g} ms [us]",
            "presses",
            "median",
            "p99",
            "p99.9",
            "worst",
        )
        print("\n" + table(head, [(load, *spread.cells(MICROSECOND_S)) for load, spread in feet.items()]))


if __name__ == "__main__":
    main()
