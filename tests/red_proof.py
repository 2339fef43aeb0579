"""Proves that the screen shows nothing but red: ``python -m tests.red_proof``.

The real program on a pseudo-terminal is led through every page, question, notice, error, resize, crash, kill
and exit; every byte is read by a strict reader and by a terminal emulator, on each kind of terminal.
Inside the real tmux and GNU screen, where they are installed, it is led through a few pages and questions.
With ``--plant green`` a green label is put where no layer stops it, and the proof must fail.
"""

from __future__ import annotations

import argparse
import os
import signal
import sys
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from time import perf_counter
from types import MappingProxyType

from tests.tui.multiplexer import MULTIPLEXERS, inside, is_here, not_red_inside
from tests.tui.real_screen import LEVEL, controller, not_red, screen, screen_argv
from tests.tui.terminal_session import TerminalSession, python
from tests.tui.unlit import lights
from tui.pages.key_table import PAGES
from tui.pages.shared.page_names import PageName
from tui.red.console_font import IN_NEARLY_EVERY_FONT, shown_by

TERMINALS = {
    "real colours": ("xterm-256color", {}),
    "Linux console": ("linux", {"COLORTERM": ""}),
}
# Keys, and words that must then be shown, or gone (~). Two plates are opened first, so that there is a tray,
# a mark, a step over and a list of others to be drawn.
TRAYS = (
    ("o", "Which routine?"),
    ("1", "Name of the plate"),
    ("harbour \x1b[32m wall\r", "READY for"),
    ("o", "Which routine?"),
    ("1", "Name of the plate"),
    ("\r", "keys act on"),
    ("\r", "time left"),
    ("1", "Seen:"),
    ("n", "ready-made phrases"),
    ("green note", "green note"),
    ("\r", "PULL"),
    ("m", "What shows on"),
    ("\x1b", "~What shows"),
    ("p", "time left"),
    ("c", "before its time?"),
    ("\x1b", "~before its time?"),
    ("a", "Give up the run"),
    ("\x1b", "~Give up"),
    ("t", "Temperature in tray"),
    ("hot\r", "No: "),
    ("\x1b", "~Temperature in tray"),
)
HELP = (("h", "A TRAY THAT WAITS"), ("\x1b[6~\x1b[6~", "↑ ↓"), ("x", "leave"))
LAMP = (
    ("\x1b[C", "FOOT HERE"),
    ("\r", "Print which negative?"),
    ("\r", "On which paper"),
    ("\r", "Base: not set"),
    ("b", "Base time"),
    ("4\r", "Base 4.00 s"),
    ("t", "Test strip. Its number"),
    ("1\r", "Strip 0.5 st"),
    ("m", "More:"),
    ("\x1b", "~More:"),
    (" ", "interlock 1"),
    ("h", "THE LAMP"),
    ("x", "leave"),
    ("\x1b[D", "TRAYS  FOOT HERE"),
)
BATHS = (
    ("", "No bath stands"),
    ("m", "Make a new bath"),
    ("1", "by which formula"),
    ("1", "How much"),
    ("half a bucket\r", "No: "),
    ("2 l\r", "Its name or its vessel"),
    ("\r", "left by area"),
    ("\r", "put right when it was made"),
    ("\x1b", "~put right"),
    ("d", "can not be had back"),
    ("\x1b", "~had back"),
    ("h", "A BENCH WITH A HEATER"),
    ("x", "leave"),
)
DAYLIGHT = (
    ("1", "The place"),
    # Where the sun is up at noon and by day in every season.
    ("0.50N 9.40E\r", "~then Enter"),
    ("5", "sensitive to"),
    ("1", "Its index"),
    ("3\r", "good to"),
    ("9", "before the camera"),
    ("7", "light come from"),
    ("2", "~light come from"),
    ("d", "f/5.6     f/8"),
    ("d", "reciprocity"),
    ("d", "1 Place"),
    ("6", "The stop"),
    ("\x1b[32mwide\r", "No: "),
)
LOGBOOK = (
    ("", "newest first"),
    ("\r", "back to the list"),
    ("b", "newest first"),
    ("h", "back to the page"),
    ("x", "~back to the page"),
)
BENCH = (
    ("", "SOUNDS, the least urgent first"),
    ("\x1b[B\r", "► ··"),
    ("d", "controller"),
    ("h", "back to the page"),
    ("x", "~back to the page"),
)
# Pages that are turned to by their number; one that has no walk of its own is shown with its Help.
BY_NUMBER: Mapping[PageName, tuple[tuple[str, str], ...]] = MappingProxyType(
    {"baths": BATHS, "daylight": DAYLIGHT, "logbook": LOGBOOK, "bench": BENCH}
)
ANY_PAGE = (("", "leave"), ("h", "back to the page"), ("x", "~back to the page"))
# A plate that bears no light, opened and given up: between the two, nothing at all is to be seen.
DARK_BEGINS = (
    ("o", "Which routine?"),
    ("3", "Name of the plate"),
    ("\r", "L THREE TIMES lights it"),
)
DARK_ENDS = (
    ("a", "Give up the run"),
    ("y", "~BLACK in"),
    # A letter that answers may begin a text: keys that follow it do nothing until Escape,
    # spelled so that the next key can not be read as a part of it.
    ("\x1b[27u", "~BLACK in"),
    ("h", "back to the page"),
    ("x", "~back to the page"),
)
LIGHT = (("---", "Light 3 of 9"), ("++++++", "Light 9 of 9"))


# Inside a multiplexer: a plate, a question about it, and pages with their Help.
PLATE = TRAYS[:3]
GIVE_UP = (("a", "Give up the run"), ("\x1b", "~Give up"))
INSIDE: tuple[PageName, ...] = ("lamp", "baths", "daylight", "bench")


def walk(on: TerminalSession, bench: int) -> Iterator[str]:
    """Lead the screen through all there is; tell after each part what has been seen."""
    on.until_shown("No plate on the bench")
    yield "an empty bench"
    for name, steps in (
        ("trays", TRAYS),
        ("help", HELP),
        ("lamp", LAMP),
        ("brightness", LIGHT),
    ):
        _walk(on, steps)
        yield name
    for page in PAGES:
        if page not in {"trays", "lamp"}:
            _turn(on, page)
            _walk(on, BY_NUMBER.get(page, ANY_PAGE))
            yield page
    _turn(on, "trays")
    # The banner and the title tell the sizes apart: shorter, or whole.
    for rows, columns, banner_end, whole in (
        (12, 40, "REHEARSAL", 0),
        (36, 120, "open", 1),
        (24, 80, "open", 0),
    ):
        _resize(on, rows, columns, banner_end, title_is_whole=bool(whole))
    yield "other sizes"
    yield from _deaths(on)
    _dark(on)
    yield "the dark"
    os.kill(bench, signal.SIGKILL)
    on.until_shown("BENCH DISCONNECTED")
    yield "a dead controller"
    on.press("q")
    on.until_shown("The screen was left.")
    on.press("daylight\r")
    on.until_shown("Nobody can say")
    on.press("daylight\r")
    on.until_ended()
    yield "the way out"


def _turn(on: TerminalSession, page: PageName) -> None:
    _walk(on, (("0", "Which page?"), (f"{PAGES.index(page) + 1}", f" {page.upper()}  ")))


def _dark(on: TerminalSession) -> None:
    """Open a plate that bears no light; kill the screen meanwhile: neither it nor the gate lights a cell."""
    _walk(on, DARK_BEGINS)
    on.press("y")
    on.until(lambda: not on.shown().strip(), "a black screen")
    on.settle()
    black_from = len(on.text)
    [before] = on.children()
    os.kill(before, signal.SIGKILL)
    on.until(lambda: on.children() != [before], "the end of the screen")
    on.press(" ")
    on.until(lambda: len(on.children()) == 1, "another screen")
    on.until_written_after(black_from, "\x1b[?1004h")
    on.press("n")
    on.settle()
    lit = lights(on.text[black_from:])
    assert lit == [], f"lit in the dark: {lit}"
    _light(on)
    _walk(on, DARK_ENDS)


def _light(on: TerminalSession) -> None:
    """Press the key of light until there is light: a busy machine may run two presses into one."""
    for _ in range(30):
        on.press("l")
        for _ in range(3):  # a press that comes at once after another counts for a key held down
            on.settle()
        if "BLACK in" in on.shown():
            return
    raise AssertionError(f"no light came; the screen shows:\n{on.shown()}")


def _walk(on: TerminalSession, steps: Iterable[tuple[str, str]]) -> None:
    # A pseudo-terminal that says it is a console has no font to ask for.
    drawn = shown_by(IN_NEARLY_EVERY_FONT) if on.strict.console else str
    for keys, words in steps:
        shown = drawn(words)
        if keys:
            on.press(keys)
        (on.until_gone if shown[0] == "~" else on.until_shown)(shown.lstrip("~"))
        # The words may stand there from before, or be drawn before the rest: the next key waits for all.
        on.settle()


def _resize(on: TerminalSession, rows: int, columns: int, banner_end: str, *, title_is_whole: bool) -> None:
    on.resize(rows, columns)

    def is_drawn() -> bool:
        banner, title = on.screen.display[1].rstrip(), on.screen.display[3]
        return banner.endswith(banner_end) and ("temperature" in title) == title_is_whole

    on.until(is_drawn, "a page of that size")


def _deaths(on: TerminalSession) -> Iterator[str]:
    os.kill(on.children()[0], signal.SIGSTOP)
    on.until_shown("stopped by signal 19")
    on.press(" ")
    on.until_shown("leave")
    yield "a stopped screen"
    os.kill(on.children()[0], signal.SIGKILL)
    on.until_shown("ended by signal 9 (SIGKILL)")
    on.press(" ")
    on.until_shown("leave")
    yield "a killed screen"


# Called instead of a page's own drawing: a fault in the middle of a page, with a hostile message.
FAULTY = """
import sys, tui.pages.trays.page as trays
from pathlib import Path
from tui.app import show
def fail(*_): raise ValueError('a wet \\x1b[32mcable')
trays.TraysPage.draw = fail
sys.exit(show(Path({socket!r}), Path({state!r})))
"""
# A label of its own words and another colour, with gate, whitelist of the driver and line filter taken away.
PLANTED = """
import sys, tui.screen as s, tui.driver as d
from pathlib import Path
from textual.drivers.linux_driver import LinuxDriver
from tui.app import show
from tui.pages.trays.page import TraysPage
s.EmbertrayScreen.get_line_filters = lambda _: []
d.RedDriver.write = LinuxDriver.write
draw = TraysPage.draw
def green(page, moment):
    draw(page, moment)
    page.query_one('#title').styles.background = 'green'
    page.query_one('#title').show('A GREEN LABEL')
TraysPage.draw = green
sys.exit(show(Path({socket!r}), Path({state!r})))
"""


def behind_the_gate(code: str) -> tuple[str, ...]:
    """The command that runs ``code`` behind the gate."""
    argv = f"[sys.executable, '-c', {code!r}]"
    return python(f"import sys; from tui.gate import run; sys.exit(run({argv}, level={LEVEL}))")


def crash(folder: Path, term: str, variables: dict[str, str]) -> list[str]:
    """What was not red when a page failed."""
    code = FAULTY.format(socket=str(folder / "no.sock"), state=str(folder))
    with TerminalSession(*behind_the_gate(code), level=LEVEL, term=term, variables=variables) as on:
        on.until_shown("The screen failed")
        on.until_shown("exit status 1")
        on.press("daylight\r")
        on.until_ended()
        return not_red(on)


def planted(folder: Path) -> list[str]:
    """What is found of a green label that nothing holds back."""
    code = PLANTED.format(socket=str(folder / "no.sock"), state=str(folder))
    with TerminalSession(*python(code), level=LEVEL) as on:
        on.until_shown("A GREEN LABEL")
        return [fault for fault in not_red(on) if "cell" in fault or "pen" in fault]


@contextmanager
def _opened(folder: Path, kind: str) -> Iterator[tuple[TerminalSession, int]]:
    term, variables = TERMINALS[kind]
    with controller(folder) as bench, screen(folder, term=term, variables=variables) as on:
        yield on, bench.pid


def prove(kind: str, folder: Path, say: Callable[[str], None]) -> list[str]:
    """Return everything that was not red on one kind of terminal."""
    found: list[str] = []
    with _opened(folder, kind) as (on, bench):
        for part in walk(on, bench):
            wrong = not_red(on)
            found += [f"{part}: {words}" for words in wrong]
            say(f"  {part}: {'red' if not wrong else wrong[0]}")
        say(f"  {on.strict.drawn} characters, {len(on.text.encode())} bytes read")
    found += [f"a page that fails: {words}" for words in crash(folder, *TERMINALS[kind])]
    return found


def prove_inside(kind: str, folder: Path, say: Callable[[str], None]) -> list[str]:
    """Return everything that was not red of what a multiplexer around the screen wrote."""
    found: list[str] = []
    with controller(folder), inside(kind, [*screen_argv(folder), "--bar-hidden"]) as on:
        for part in _short_walk(on):
            wrong = not_red_inside(on, LEVEL)
            found += [f"{part}: {words}" for words in wrong]
            say(f"  {part}: {'red' if not wrong else wrong[0]}")
        say(f"  {len(on.text.encode())} bytes read")
    return found


def _short_walk(on: TerminalSession) -> Iterator[str]:
    on.until_shown("No plate on the bench")
    yield "an empty bench"
    for name, steps in (("a plate", PLATE), ("help", HELP), ("a question", GIVE_UP), ("brightness", LIGHT)):
        _walk(on, steps)
        yield name
    for page in INSIDE:
        _turn(on, page)
        _walk(on, ANY_PAGE)
        yield page


def proved(kind: str) -> tuple[str, list[str], list[str]]:
    """Prove one kind of terminal, or plant "green"; return it, what there is to say, and what was not red."""
    said: list[str] = []
    with tempfile.TemporaryDirectory(prefix="embertray-") as folder:
        if kind == "green":
            return kind, said, planted(Path(folder))
        if kind not in MULTIPLEXERS:
            return kind, said, prove(kind, Path(folder), said.append)
        if is_here(kind):
            return kind, said, prove_inside(kind, Path(folder), said.append)
        return kind, [f"  not proved: {kind} is not installed"], []


def main(arguments: list[str] | None = None) -> int:
    """Prove it on every kind of terminal; return 1 if anything was not red."""
    parser = argparse.ArgumentParser(prog="python -m tests.red_proof", description="Nothing but red, proved.")
    parser.add_argument("--plant", choices=["green"], help="put a green label in, to see the proof fail")
    args = parser.parse_args(arguments)
    began_s = perf_counter()
    found: list[str] = []
    with ProcessPoolExecutor(max_workers=2) as pool:
        for kind, said, wrong in pool.map(
            proved, [args.plant] if args.plant else [*TERMINALS, *MULTIPLEXERS]
        ):
            print("\n".join([f"{kind}:", *said]))
            found += wrong
    print(f"{perf_counter() - began_s:.0f} s; " + ("NOT RED:" if found else "nothing but red."))
    print("".join(f"  {words}\n" for words in found), end="")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
