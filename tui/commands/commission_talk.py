"""The talk of a commissioning on a plain terminal: words, and a line typed for each question."""

from __future__ import annotations

import argparse
import asyncio
import contextlib
import os
import shutil
import sys
import textwrap

from firmware_py.craft.refusal import Refused
from firmware_py.service.commissioning.commission import Request, commission
from firmware_py.service.commissioning.person import Left
from tui.commands.commission import STEPS, add_commission

LINE_LIMIT = 1000


class TerminalPerson:
    """The person at the terminal. Waiting for an answer holds up nothing: the relays stay watched."""

    def __init__(self) -> None:
        self._typed = b""

    def say(self, words: str) -> None:
        """Show words."""
        width = min(100, shutil.get_terminal_size().columns - 1)
        for line in words.split("\n"):
            print("\n".join(textwrap.wrap(line, width)), flush=True)

    async def ask(self, question: str) -> str:
        """Return the line that is typed; raises `Left` at its end."""
        self.say(f"\n{question}")
        print("> ", end="", flush=True)
        while b"\n" not in self._typed:
            await self._until_typed()
            data = os.read(sys.stdin.fileno(), LINE_LIMIT)
            if not data:
                raise Left
            self._typed += data
        line, _, self._typed = self._typed.partition(b"\n")
        return "".join(sign for sign in line.decode("utf-8", "replace")[:LINE_LIMIT] if sign.isprintable())

    async def _until_typed(self) -> None:
        loop, typed = asyncio.get_running_loop(), asyncio.Event()
        try:
            loop.add_reader(sys.stdin.fileno(), typed.set)
        except PermissionError:  # a file: it never keeps one waiting
            return
        try:
            await typed.wait()
        finally:
            loop.remove_reader(sys.stdin.fileno())


def talk(args: argparse.Namespace) -> int:
    """Commission; return 0, or 1 where it was left before the end."""
    request = Request(args.config, args.write, args.report, args.rehearsal, tuple(args.step or STEPS))
    with contextlib.suppress(Left, KeyboardInterrupt):
        asyncio.run(commission(request, TerminalPerson()))
        return 0
    print("\nLeft before the end: nothing was written, and every relay is off.", flush=True)
    return 1


def main() -> int:
    """Commission behind the gate."""
    parser = argparse.ArgumentParser()
    add_commission(parser.add_subparsers())
    try:
        return talk(parser.parse_args(["commission", *sys.argv[1:]]))
    except Refused as refusal:
        sys.stderr.write(f"embertray: {refusal.line}\n")
        return 1


if __name__ == "__main__":
    sys.exit(main())
