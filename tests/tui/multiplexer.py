"""A real tmux or GNU screen with a program inside, and what of all that it writes around is not red."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from tests.tui.terminal_session import TerminalSession
from tui.red.colours import cube_red, indexed_rgb

MULTIPLEXERS = ("tmux", "screen")


def is_here(kind: str) -> bool:
    """Whether the program is installed."""
    return shutil.which(kind) is not None


@contextmanager
def inside(kind: str, argv: Sequence[str]) -> Iterator[TerminalSession]:
    """Run a command inside a multiplexer whose bar is hidden; end all of it afterwards."""
    # A short name, which leaves room for that of a socket.
    with tempfile.TemporaryDirectory(prefix="emb") as name:
        folder = Path(name)
        (folder / "s").mkdir(mode=0o700)
        variables = {"TMUX": "", "STY": "", "SCREENDIR": str(folder / "s"), "PYTHONPATH": ":".join(sys.path)}
        start, end = _commands(kind, folder, argv)
        with TerminalSession(*start, variables=variables) as on:
            try:
                yield on
            finally:
                subprocess.run(end, check=False, env={**os.environ, **variables}, stdout=subprocess.DEVNULL)


def _commands(kind: str, folder: Path, argv: Sequence[str]) -> tuple[list[str], list[str]]:
    conf = folder / "conf"
    if kind == "tmux":
        conf.write_text("set -g status off\n", encoding="ascii")
        tmux = ["tmux", "-S", str(folder / "t")]
        return [*tmux, "-f", str(conf), "new-session", *argv], [*tmux, "kill-server"]
    conf.write_text("startup_message off\nhardstatus ignore\n", encoding="ascii")
    return ["screen", "-c", str(conf), "-S", folder.name, *argv], ["screen", "-S", folder.name, "-X", "quit"]


def colours(text: str) -> Iterator[str]:
    """Every colour that was set: as `38;5;N`, `38;2;r;g;b`, or a plain code."""
    for parameters in re.findall(r"\x1b\[([0-9;:]*)m", text):
        said = parameters.replace(":", ";")
        yield from re.findall(r"[34]8;5;\d+|[34]8;2;\d+;\d+;\d+", said)
        yield from re.findall(
            r"(?:^|;)((?:3|4|9|10)[0-7])(?=;|$)", re.sub(r"[34]8;(?:5;\d+|2;[\d;]+)", "", said)
        )


def not_red_inside(on: TerminalSession, level: int) -> list[str]:
    """Everything a multiplexer wrote, or shows, that is no red of the cube up to ``level``."""
    on.settle()
    reds = {str(cube_red(red, level)) for red in range(256)}
    hexes = {"".join(f"{part:02x}" for part in indexed_rgb(int(red))) for red in reds}
    wrong = {c for c in colours(on.text) if c[1:5] != "8;5;" or c.split(";")[-1] not in reds}
    found = [f"set {colour}" for colour in sorted(wrong)]
    for number, row in on.screen.buffer.items():
        signs = [cell for cell in row.values() if cell.data.strip()]
        shown = {cell.fg for cell in signs} | {cell.bg for cell in signs}
        found += [f"a cell of {colour} in row {number}" for colour in sorted(shown - hexes)]
    # It may show its cursor on the way; at rest there is none.
    if on.text.rfind("\x1b[?25h") > on.text.rfind("\x1b[?25l"):
        found.append("the cursor is shown")
    return found
