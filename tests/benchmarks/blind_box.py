"""Unknown boxes, tried by several workers: how many plates each spoils before the first fits, and after.

    python -m tests.benchmarks.blind_box --boxes 300 --seed 1 [--mismatch all] [--jobs 1]

Prints a table for each world, and how often advice came true beside how sure it was.
"""

from __future__ import annotations

import argparse
import math
import os
from collections.abc import Callable
from dataclasses import replace
from multiprocessing import Pool
from statistics import mean

import numpy as np

from tests.benchmarks.blind.nature import MISMATCHES, Box, Day, Plate, changed, develop, draw_box, draw_day
from tests.benchmarks.blind.workers import Averaged, Believer, Factor, Oracle, Table, Worker
from tests.benchmarks.measuring import machine, table

TRIES, AFTER = 12, 10

MAKERS: dict[str, Callable[[Box], Worker]] = {
    "printed table, usual corrections": lambda box: Table(),
    "factor of appearance, usual corrections": lambda box: Factor(),
    "next_plate, verdicts": lambda box: Averaged(),
    "next_plate, densities": lambda box: Averaged(measured=True),
    "belief, verdicts and appearance": lambda box: Believer(),
    "belief, verdicts, by the book": lambda box: Believer(in_tray=True),
    "belief, densities": lambda box: Believer(measured=True),
    "belief, densities, by the book": lambda box: Believer(measured=True, in_tray=True),
    "oracle: the box, not the day": lambda box: Oracle(box=box),
}
QUICK = ("belief, verdicts and appearance", "belief, densities")
Result = tuple[int, int, list[tuple[float, bool]]]


def try_box(worker: Worker, box: Box, seed: int) -> Result:
    """Return plates spoiled before the first that fits (12: never), of the ten after, and what was stated."""
    rng = np.random.default_rng(seed)
    other = changed(box, np.random.default_rng(seed + 1)) if box.mismatch == "new emulsion" else box
    until, after, left = None, 0, AFTER
    stated: list[tuple[float, bool]] = []
    for number in range(TRIES + AFTER):
        day = draw_day(rng)
        if until is not None and left == AFTER - 3:
            box = other
        stops = worker.plan()
        if box.mismatch == "ignores" and day.ignores[0] < 0.5:
            stops += day.ignores[1]
        seconds = worker.seconds(box, day, stops)
        if box.mismatch == "ignores" and day.ignores[0] < 0.5:
            seconds *= math.exp(day.ignores[2])
        plate = develop(box, day, stops, min(7200.0, max(20.0, seconds)))
        stated.append((getattr(worker, "chance", math.nan), plate.fits))
        worker.learn(_as_read(plate, day))
        if until is None:
            until = number if plate.fits else None
            if until is None and number + 1 == TRIES:
                break
        else:
            after += not plate.fits
            left -= 1
            if left == 0:
                break
    return (TRIES, AFTER, stated) if until is None else (until, after, stated)


def _as_read(plate: Plate, day: Day) -> Plate:
    """Return the plate with the day's errors of reading in its densities; its fit was judged before."""
    low, high, fog, gamma = day.read
    return replace(
        plate,
        shadow=plate.shadow + low,
        span=plate.span + high - low,
        fog=max(0.0, plate.fog + fog),
        gamma=max(0.05, plate.gamma + 1.5 * gamma),
    )


def one_box(asked: tuple[str, str, int, int]) -> tuple[str, str, Result]:
    mismatch, name, seed, number = asked
    rng = np.random.default_rng([seed, number])
    box = draw_box(rng, mismatch)
    return mismatch, name, try_box(MAKERS[name](box), box, 1_000_003 * seed + number)


def main() -> None:
    asked = _arguments()
    worlds = ["", *MISMATCHES] if asked.mismatch == "all" else [asked.mismatch]
    names = [name for name in MAKERS if asked.only in name] if asked.only != "quick" else list(QUICK)
    os.nice(10)
    jobs = [(world, name, asked.seed, n) for world in worlds for name in names for n in range(asked.boxes)]
    found: dict[tuple[str, str], list[Result]] = {}
    if asked.jobs > 1:
        with Pool(asked.jobs) as pool:
            for world, name, result in pool.imap_unordered(one_box, jobs, chunksize=4):
                found.setdefault((world, name), []).append(result)
    else:
        for job in jobs:
            world, name, result = one_box(job)
            found.setdefault((world, name), []).append(result)
    for world in worlds:
        print(f"\n{world or 'as supposed'}, {asked.boxes} boxes, seed {asked.seed}")
        print(table(HEAD, [[name, *_cells(found[world, name])] for name in names]))
    stated = [
        one
        for (world, _), results in found.items()
        if not world
        for r in results
        for one in r[2]
        if one[0] == one[0]
    ]
    print("\ncalibration, as supposed:")
    print(table(("stated", "advice", "came true", "mean stated"), _calibration(stated)))
    print(machine())


HEAD = ("worker", "until: median", "p90", "never %", "after: mean")


def _cells(results: list[Result]) -> list[str]:
    until = sorted(result[0] for result in results)
    never = 100 * sum(one == TRIES for one in until) / len(until)
    p90 = until[min(len(until) - 1, math.ceil(0.9 * len(until)) - 1)]
    fitted = [result[1] for result in results if result[0] < TRIES]
    after = mean(fitted) if fitted else math.nan
    return [f"{until[(len(until) - 1) // 2]}", f"{p90}", f"{never:.1f}", f"{after:.2f}"]


def _calibration(stated: list[tuple[float, bool]]) -> list[list[str]]:
    rows = []
    for tenth in range(10):
        inside = [(c, fits) for c, fits in stated if tenth / 10 <= c < (tenth + 1) / 10 + (tenth == 9) * 0.01]
        if inside:
            true = 100 * mean(fits for _, fits in inside)
            rows.append(
                [
                    f"{tenth / 10:.1f}-{(tenth + 1) / 10:.1f}",
                    f"{len(inside)}",
                    f"{true:.0f} %",
                    f"{100 * mean(c for c, _ in inside):.0f} %",
                ]
            )
    return rows


def _arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(
        description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("--boxes", type=int, default=30)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--mismatch", default="", choices=("", "all", *MISMATCHES))
    parser.add_argument("--only", default="", help="workers whose name holds this; quick: the two main rows")
    parser.add_argument("--jobs", type=int, default=1, choices=(1, 2))
    return parser.parse_args()


if __name__ == "__main__":
    main()
