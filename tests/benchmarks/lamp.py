"""How exactly the lamp is on: ``python -m tests.benchmarks.lamp [--quick] [--pulses N]``.

The error of the on-time at the pin, by the mock pin's own record, for exposures of 50 ms to 8 s: by the
switchboard and, beside it in the same run, by gpiozero's background blink, `threading.Timer` and an asyncio
timer; idle and under three loads. Then the time from the foot's touch to the lamp.
Goal: p99.9 under 1 ms by the switchboard in every load, and 20 times better than the best peer under load.
"""

import argparse
import asyncio
import os
import subprocess
import sys
import tempfile
from contextlib import nullcontext
from pathlib import Path

from firmware_py.devices.debounce import SETTLE_S
from tests.benchmarks.measuring import Spread, cores_busy, garbage_collected, json_and_sqlite, machine, table
from tests.benchmarks.pulses import SWITCHBOARD, WAYS, durations_s, errors_s, foot_to_lamp_s, in_step, lit

FULL, QUICK = 1000, 40
PRESSES = 200
GOAL_S = 0.001
LATE_S = 0.0004
MICROSECOND_S = 1e-6
HEAP_OBJECTS = 100_000
FLOOR = "bare timer (this machine's floor)"
FIGURES = ("median", "p99", "p99.9", "worst")
VERDICT = ("p99.9 [us]", "switchboard", "floor", "best peer", "times better", "peer", "under 1 ms")


def memory_folder():
    """Return a folder in memory for the pins' records: a busy disk must not hold up the observer."""
    shared = Path("/dev/shm")
    return shared if os.access(shared, os.W_OK) else None


def core_ticks():
    """Return the time that the hypervisor has taken from this machine's cores, and all their time [ticks]."""
    ticks = [
        int(word) for word in Path("/proc/stat").read_text(encoding="ascii").splitlines()[0].split()[1:9]
    ]
    return ticks[7], sum(ticks)


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
            found_s = [abs(error_s) for error_s in errors_s(record, planned_s)]
            spreads[load, way] = Spread.of(found_s)
            late_s = [span.off_s for span, each in zip(lit(record), found_s, strict=True) if each > LATE_S]
            step = f"{len(late_s)} over {LATE_S * 1000:g} ms, {in_step(late_s)} of them in step with 100 ms"
            print(f"  {load}, {way}: {step}", flush=True)
        with put_on():
            spreads[load, FLOOR] = Spread.of([abs(each) for each in floor_s(durations_s(pulses))])
    return spreads


def floor_s(planned_s):
    """Return the errors [s] of a process that does nothing but meet these deadlines."""
    words = [sys.executable, "-m", "tests.benchmarks.bare_timer"]
    said = "".join(f"{for_s!r}\n" for for_s in planned_s)
    run = subprocess.run(words, input=said, stdout=subprocess.PIPE, text=True, check=True)
    return [float(line) for line in run.stdout.splitlines()]


def report_pulses(spreads, loads):
    """Print the spreads, and how they stand to each other."""
    rows = [(f"{load}: {way}", *spread.cells(MICROSECOND_S)) for (load, way), spread in spreads.items()]
    print("\n" + table(("error of the on-time [us]", "pulses", *FIGURES), rows))
    print("\n" + table(VERDICT, [verdict(spreads, load) for load in loads]), flush=True)


def report_foot(spreads):
    """Print the spreads."""
    head = (f"touch to lamp beyond {SETTLE_S * 1000:g} ms [us]", "presses", *FIGURES)
    print("\n" + table(head, [(load, *spread.cells(MICROSECOND_S)) for load, spread in spreads.items()]))


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
    floor = spreads[load, FLOOR].p99_9
    peers = {way: spreads[load, way].p99_9 for way in WAYS if way != SWITCHBOARD}
    best = min(peers, key=lambda way: peers[way])
    goal = "yes" if ours < GOAL_S else "NO"
    figures = [f"{each / MICROSECOND_S:,.0f}" for each in (ours, floor, peers[best])]
    return (load, *figures, f"{peers[best] / ours:,.0f}", best, goal)


def main():
    """Measure and print."""
    words = argparse.ArgumentParser(description=(__doc__ or "").splitlines()[0])
    words.add_argument("--quick", action="store_true", help="two minutes instead of half an hour")
    words.add_argument("--pulses", type=int, help=f"pulses by the switchboard in each load (default {FULL})")
    asked = words.parse_args()
    print(machine())
    before = core_ticks()
    with tempfile.TemporaryDirectory() as disk, tempfile.TemporaryDirectory(dir=memory_folder()) as memory:
        put_on, folder = loads(Path(disk)), Path(memory)
        report_pulses(
            measure_pulses(folder, put_on, asked.pulses or (QUICK if asked.quick else FULL)), put_on
        )
        report_foot(measure_foot(folder, put_on, QUICK if asked.quick else PRESSES))
    stolen, ticks = (now - then for now, then in zip(core_ticks(), before, strict=True))
    print(f"\nthe hypervisor took {100 * stolen / ticks:.2f} % of the cores' time")


if __name__ == "__main__":
    main()
