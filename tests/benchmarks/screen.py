"""How soon the screen paints, how soon a key shows, and what it costs: ``python -m tests.benchmarks.screen``.

The real gate and the real screen on a pseudo-terminal, fed one view a second by a bench made up here;
beside it a bare Textual application that only counts seconds, measured in the same run.
"""

from __future__ import annotations

import argparse
import asyncio
import select
import sys
import tempfile
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from pathlib import Path
from time import perf_counter

import msgspec

from firmware_py.facts.views.bench import BenchView
from firmware_py.service.messages import Seen
from tests.benchmarks.measuring import Spread, cores_busy, cpu_s, machine, resident_kB, table
from tests.tui.sample_bench import NOW_S, bench, six_lanes
from tests.tui.terminal_session import TerminalSession
from tui.pages.shared.page_names import PAGE_NAMES

BARE = """
from textual.app import App
from textual.widgets import Label
class Bare(App):
    def compose(self):
        yield Label("0")
    def on_mount(self):
        self.seconds = 0
        self.set_interval(1.0, self.count)
    def count(self):
        self.seconds += 1
        self.query_one(Label).update(f"bare {self.seconds}")
Bare().run(mouse=False)
"""


@contextmanager
def bench_on(socket: Path, view: BenchView) -> Iterator[None]:
    """Serve a bench that shows ``view``, its time going on, once a second."""
    encode = msgspec.json.encode

    async def client(_: asyncio.StreamReader, writer: asyncio.StreamWriter) -> None:
        loop = asyncio.get_running_loop()
        begun_s = loop.time()
        while not writer.is_closing():
            as_of_s = NOW_S + loop.time() - begun_s
            writer.write(encode(Seen(bench=msgspec.structs.replace(view, as_of_s=as_of_s))) + b"\n")
            await asyncio.sleep(1.0)

    async def serve() -> None:
        async with await asyncio.start_unix_server(client, socket):
            ready.set()
            await asyncio.Event().wait()

    ready = threading.Event()
    threading.Thread(target=lambda: asyncio.run(serve()), daemon=True).start()
    ready.wait()
    yield


def screen(socket: Path) -> TerminalSession:
    """Open the screen behind its gate."""
    return TerminalSession(sys.executable, "-m", "tui.cli", "--socket", str(socket), level=200)


def first_paint_ms(open_it: Callable[[], TerminalSession], words: str) -> tuple[float, float]:
    """Return how long the first red palette entry and the first page take [ms]."""
    begun = perf_counter()
    with open_it() as session:
        session.until_written("]4;0;rgb:") if words != "bare" else None
        red_ms = (perf_counter() - begun) * 1000
        session.until_shown(words)
        return red_ms, (perf_counter() - begun) * 1000


def key_to_paint_ms(session: TerminalSession, presses: int) -> list[float]:
    """Return how long each letter typed into a note takes to come back on the screen [ms]."""
    session.until_shown("time left")
    session.press("n")
    session.until_shown("Note for")
    taken = []
    for number in range(presses):
        letter = "abcdefghijklmnopqrstuvwxyz"[number % 26]
        mark = len(session.text)
        begun = perf_counter()
        session.press(letter)
        session.until(partial(_came, session, mark, letter), letter)
        taken.append((perf_counter() - begun) * 1000)
        # A person's pace; also, what a tick paints is not taken for the key.
        select.select([], [], [], 0.03)
    return taken


def page_to_paint_ms(session: TerminalSession, presses: int) -> list[float]:
    """Return how long each turn to the next page takes until its name stands on top [ms].

    What it takes to read a whole page with an emulator, a few milliseconds, is counted with it.
    """
    session.until_shown("time left")
    taken = []
    for number in range(1, presses + 1):
        name = f" {PAGE_NAMES[number % len(PAGE_NAMES)].upper()} "
        begun = perf_counter()
        session.press("\x1b[C")
        session.until(partial(_on_top, session, name), name)
        taken.append((perf_counter() - begun) * 1000)
        select.select([], [], [], 0.1)
    return taken


def _on_top(session: TerminalSession, name: str) -> bool:
    return session.screen.display[0].startswith(name)


def _came(session: TerminalSession, mark: int, letter: str) -> bool:
    return letter in session.text[mark:]


def cost(session: TerminalSession, words: str, seconds: float) -> list[tuple[str, str]]:
    """Return the share of a core and the memory [MB] of the session's processes, as text."""
    session.until_shown(words)
    processes = [session.pid, *session.children()]
    begun, before = perf_counter(), [cpu_s(pid) for pid in processes]
    while (left := seconds - (perf_counter() - begun)) > 0:
        if select.select([session.line], [], [], left)[0]:
            session._read()
    lasted = perf_counter() - begun
    return [
        (f"{(cpu_s(pid) - spent) / lasted:.2%}", f"{resident_kB(pid) / 1024:.0f}")
        for pid, spent in zip(processes, before, strict=True)
    ]


def main() -> None:
    """Measure and print."""
    parser = argparse.ArgumentParser(description="Measure the red screen.")
    parser.add_argument("--seconds", type=float, default=20.0)
    parser.add_argument("--presses", type=int, default=200)
    args = parser.parse_args()
    print(machine())
    bare = (sys.executable, "-c", BARE)
    rows = []
    with tempfile.TemporaryDirectory() as folder:
        full, empty = Path(folder) / "six.sock", Path(folder) / "none.sock"
        with bench_on(full, six_lanes()), bench_on(empty, bench()):
            paints = [first_paint_ms(lambda: screen(full), "time left") for _ in range(5)]
            bare_paint = [first_paint_ms(lambda: TerminalSession(*bare), "bare")[1] for _ in range(5)]
            print(f"first red {sorted(p[0] for p in paints)[2]:.0f} ms, ", end="")
            print(f"first page {sorted(p[1] for p in paints)[2]:.0f} ms, ", end="")
            print(f"bare Textual's first second {sorted(bare_paint)[2]:.0f} ms (1000 of them waiting)")
            for name, busy in (("idle", 0), ("one core busy", 1)):
                with cores_busy(busy), screen(full) as session:
                    spread = Spread.of(key_to_paint_ms(session, args.presses))
                    rows.append((f"key to paint, {name}", *spread.cells()))
                with cores_busy(busy), screen(full) as session:
                    spread = Spread.of(page_to_paint_ms(session, args.presses // 2))
                    rows.append((f"page to paint, {name}", *spread.cells()))
            print(table(("ms", "count", "median", "p99", "p99.9", "worst"), rows))
            costs = []
            for name, socket, words in (("no tray", empty, "No plate"), ("six trays", full, "time left")):
                with screen(socket) as session:
                    spent = cost(session, words, args.seconds)
                for what, figures in zip(("gate", "screen"), spent, strict=True):
                    costs.append((f"{what}, {name}", *figures))
            with TerminalSession(*bare) as session:
                costs.append(("bare Textual", *cost(session, "bare", args.seconds)[0]))
            print(table(("cost", "of a core", "MB"), costs))


if __name__ == "__main__":
    main()
