"""What the controller costs, and whether it grows: ``python -m tests.benchmarks.controller``.

The first part serves a real bench in real time: six trays developing, eight 1-Wire probes read once a
second, the heater at work and a screen watching; beside it the same bench with nothing to do, and a bare
asyncio program that wakes as often. The second rehearses a working day and night on the simulated bench as
fast as it goes, and weighs the process at every hour of it.
"""

from __future__ import annotations

import argparse
import json
import select
import signal
import sqlite3
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from time import perf_counter

from tests.benchmarks.measuring import cpu_s, machine, resident_kB, table
from tests.devices.w1_folder import scratchpad, w1_slave
from tests.service.served_bench import ServedBench, wait_for

TRAYS = 6
PLACES = (*(f"tray {n}" for n in range(1, TRAYS + 1)), "jacket", "room")
BATH_DEGC, JACKET_DEGC = 18.5, 19.0
ROUTINE = "metol-hydroquinone-by-inspection"
HOUR_S = 3600.0
EVERY_S = 1200.0
# A process that takes less than this of a second's core time is not starting any more.
SETTLED_S = 0.15

BARE = f"""
import asyncio
async def main():
    while True:
        await asyncio.sleep(1 / {len(PLACES)})
asyncio.run(main())
"""


class BusyBench(ServedBench):
    """A bench with a probe in every tray, in the jacket and in the room, and a heater."""

    def __init__(self, folder: Path) -> None:
        super().__init__(folder)
        wires = "".join(
            f'[probe."{place}"]\nplace = "{place}"\nserial = "{serial(n)}"\nfolder = "{folder / "w1"}"\n'
            for n, place in enumerate(PLACES)
        )
        text = self.config.read_text(encoding="utf-8").partition("[probe.")[0]
        self.config.write_text(f"{text}[relay.heater]\npin = 23\n{wires}", encoding="utf-8")

    def warm(self, bath_degC: float) -> None:
        """Let every probe show a temperature, the jacket's a little more, the room's a little less."""
        for n in range(len(PLACES)):
            wire = self.folder / "w1" / serial(n) / "w1_slave"
            wire.parent.mkdir(parents=True, exist_ok=True)
            fresh = wire.with_suffix(".fresh")
            fresh.write_text(w1_slave(scratchpad(bath_degC + (n - 3) / 16)), encoding="ascii")
            fresh.replace(wire)


def children_of(pid: int) -> list[int]:
    """Return the processes that a process started."""
    told = Path(f"/proc/{pid}/task/{pid}/children").read_text(encoding="ascii")
    return [int(child) for child in told.split()]


def serial(number: int) -> str:
    """Return the serial number of a probe made up here."""
    return f"28-0000000000{number:02x}"


@contextmanager
def bench_in(folder: Path) -> Iterator[BusyBench]:
    """Serve the bench from a folder of its own."""
    bench = BusyBench(folder)
    bench.warm(BATH_DEGC)
    bench.start()
    try:
        yield bench
    finally:
        bench.kill(signal.SIGTERM)
        for client in bench.clients:
            client.close()


def fill(bench: BusyBench) -> None:
    """Lay a plate into every tray, and let the heater work."""
    client = bench.client()
    for number in range(1, TRAYS + 1):
        for act, more in (("open-run", {"plate": f"Plate {number}", "routine": ROUTINE}), ("proceed", {})):
            done = client.do(act, lane=number, **more)
            if done["message"] != "done":
                raise RuntimeError(f"the bench does not {act}: {done}")
    wait_for(lambda: client.do("set-heat", set_degC=JACKET_DEGC + 1.0)["message"] == "done")


def settle(pid: int) -> None:
    """Wait until a process has read what it reads once: its formulas, with the units they are written in."""
    spent = -1.0
    while cpu_s(pid) - spent > SETTLED_S:
        spent = cpu_s(pid)
        select.select([], [], [], 1.0)


def share(pids: list[int], seconds: float, bench: BusyBench | None = None) -> list[float]:
    """Return the share of a core that each process takes, the water wandering a little meanwhile."""
    begun, before = perf_counter(), [cpu_s(pid) for pid in pids]
    steps = 0
    while (passed := perf_counter() - begun) < seconds:
        select.select([], [], [], 1.0)
        steps += 1
        if bench is not None:
            bench.warm(BATH_DEGC + (steps % 5) / 16 + passed / 600)
    lasted = perf_counter() - begun
    return [(cpu_s(pid) - spent) / lasted for pid, spent in zip(pids, before, strict=True)]


def in_real_time(seconds: float) -> list[tuple[str, ...]]:
    """Return rows of share and memory: nothing to do, everything to do, and the bare program."""
    rows: list[tuple[str, ...]] = []
    for name, busy in (("nothing to do", False), (f"{TRAYS} trays, {len(PLACES)} probes, heater", True)):
        with tempfile.TemporaryDirectory() as folder, bench_in(Path(folder)) as bench:
            if busy:
                fill(bench)
            watching = bench.client()
            watching.send(b'{"message":"watch"}\n')
            controller = bench.process.pid if bench.process else 0
            pids = [controller, *children_of(controller)]
            settle(controller)
            shares = share(pids, seconds, bench)
            for who, pid, one in zip(
                ("controller", "its stand-by", "switchboard"), pids, shares, strict=True
            ):
                rows.append((f"{who}, {name}", f"{one:.2%}", f"{resident_kB(pid) / 1024:.0f}"))
    bare = subprocess.Popen([sys.executable, "-c", BARE])
    try:
        spent = share([bare.pid], min(seconds, 20.0))[0]
        rows.append((f"bare asyncio, {len(PLACES)} wakes a second", f"{spent:.2%}", _mb(bare.pid)))
    finally:
        bare.kill()
        bare.wait()
    return rows


def _mb(pid: int) -> str:
    return f"{resident_kB(pid) / 1024:.0f}"


def day_script(hours: float) -> str:
    """Return a script that develops a plate every twenty minutes, in one tray after another."""
    lines = ['title = "A day and a night"']
    lines += [f'[[water]]\nbath = "{bath}"\nstart = "20 degC"' for bath in ("dish 1", "dish 2", "dish 3")]
    for n in range(max(1, int(hours * HOUR_S / EVERY_S) - TRAYS)):
        at, of = n * EVERY_S, f"Plate {n}"
        tray = n % TRAYS + 1
        lines += [
            (
                f'[[deed]]\nat = "{at:g} s"\n'
                f'open = {{ plate = "{of}", routine = "metol-hydroquinone", tray = {tray} }}'
            ),
            f'[[deed]]\nof = "{of}"\nat = "{at + 5:g} s"\nproceed = true',
            f'[[deed]]\nof = "{of}"\nat = "{at + 100:g} s"\nnote = "comes up slowly"',
            f'[[deed]]\nof = "{of}"\nat = "{at + 400:g} s"\npull = true',
            f'[[deed]]\nof = "{of}"\nat = "{at + 6 * EVERY_S - 60:g} s"\nabandon = true',
        ]
    return "\n".join(lines)


def through_a_day(hours: float) -> list[tuple[str, ...]]:
    """Return rows of memory and journal at each hour of a rehearsed day."""
    with tempfile.TemporaryDirectory() as folder:
        script, state = Path(folder) / "day.toml", Path(folder) / "state"
        script.write_text(day_script(hours), encoding="utf-8")
        command = [sys.executable, "-m", "tui.cli", "rehearse", "--json", "--speed", "max"]
        printed = Path(folder) / "outcome.json"
        begun = perf_counter()
        with printed.open("wb") as outcome:
            process = subprocess.Popen(
                [*command, "--script", str(script), "--state", str(state)], stdout=outcome
            )
            rows = list(_weighed(process, state, begun))
        if process.returncode or not json.loads(printed.read_bytes())["runs"]:
            raise RuntimeError("the rehearsal failed")
        return rows


def _weighed(process: subprocess.Popen[bytes], state: Path, begun: float) -> Iterator[tuple[str, ...]]:
    told = -1
    while process.poll() is None:
        select.select([], [], [], 0.25)
        hour = int(_journal_s(state) // HOUR_S)
        if hour > told and process.poll() is None:
            told = hour
            size_kB = sum(file.stat().st_size for file in state.glob("*.db*")) / 1024
            yield f"hour {hour}", _mb(process.pid), f"{size_kB:,.0f}", f"{perf_counter() - begun:.0f}"


def _journal_s(state: Path) -> float:
    """Return how much time of the bench the journal spans [s]."""
    file = next(state.glob("**/*.db"), None)
    if file is None:
        return 0.0
    try:
        with closing(sqlite3.connect(f"file:{file}?mode=ro", uri=True)) as book:
            ends = [
                book.execute(f"select boot_s from event order by seq {way} limit 1")
                for way in ("asc", "desc")
            ]
            first, last = (end.fetchone() for end in ends)
            return float(last[0] - first[0]) if first else 0.0
    except sqlite3.OperationalError:
        return 0.0


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description="Measure the controller.")
    parser.add_argument("--seconds", type=float, default=60.0, help="how long each share is measured")
    parser.add_argument("--hours", type=float, default=24.0, help="how long the rehearsed day is")
    args = parser.parse_args()
    print(machine())
    print(table(("process", "of one core", "MB"), in_real_time(args.seconds)))
    print()
    print(table(("of the day", "MB", "journal kB", "after s"), through_a_day(args.hours)))


if __name__ == "__main__":
    main()
