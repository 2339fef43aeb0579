"""Reads terminal output as a suspicious terminal would: whatever might show a light that is not red is told.

Written apart from tui.red on purpose: it shares no table and no pattern with what it judges. Sequences from
"ECMA-48" (5th edition) and from common practice of terminals for the rest (from memory).
"""

from __future__ import annotations

import re
from unicodedata import bidirectional, category

PIECE = re.compile(
    r"\x1b\](?P<console>R|P[0-9A-F][0-9a-f]{6})"
    r"|\x1b\](?P<osc>[^\x07\x1b]*)(?P<st>\x1b\\|\x07)"
    r"|\x1b\[(?P<csi>[\x30-\x3f]*[\x20-\x2f]*[\x40-\x7e])"
    r"|(?P<esc>\x1b(?:\(B|\(0|[78DEM=>]))"
    r"|(?P<plain>[^\x00-\x1f\x7f-\x9f]+)"
    r"|(?P<control>[\x08\x09\x0a\x0d])",
)
PEN = re.compile(r"0;(?:[1349];)*38;2;(\d+);0;0;48;2;(\d+);0;0m")
CONSOLE_PEN = re.compile(r"0;(?:1;)?3[0-7];4[0-7]m")
FILLING = re.compile(r"[0-9;]*[@JKLMPSTXb]")
MOVING = re.compile(r"[0-9;]*[ABCDEFGHIZ`adefr]|4[hl]")
ASKING = re.compile(r"0?c|[56]n|1[468]t|\?6n|\??\d+\$p|>0?[cq]|\?u|[<=>][0-9;]*u|[0-6]? q")
MODE = re.compile(r"\?(1|7|25|1000|1002|1003|1004|1006|1015|1016|2004|2026|2048|1049)[hl]")
COLOUR = re.compile(r"(?:4;\d+|1[0-9]);rgb:([0-9a-f]{2})/00/00")
TURNING = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
PICTURE_MAKERS = {"\u200d", "\ufe0f", "\u20e3"}


class StrictTerminal:
    """Takes output piece by piece and keeps what was wrong with it in ``faults``."""

    def __init__(self, level: int, *, console: bool = False) -> None:
        self.level = level
        self.console = console
        self.faults: list[str] = []
        self.drawn = 0
        self.palette: set[str] = set()
        self.released = False
        self._pen_said = False
        self._rest = ""

    def feed(self, text: str) -> None:
        """Read more output; a piece cut at the end waits for the rest."""
        text, self._rest = self._rest + text, ""
        position = 0
        while position < len(text) and not self.released:
            found = PIECE.match(text, position)
            if found is None:
                if text[position] == "\x1b" and len(text) - position < 400:
                    self._rest = text[position:]
                    return
                self._fault(f"unknown output {text[position : position + 20]!r}")
                position += 1
                continue
            self._judge(found)
            position = found.end()

    def _judge(self, found: re.Match[str]) -> None:
        if found["console"]:
            self._console_command(found["console"])
        elif found["osc"] is not None:
            self._command(found["osc"], found["st"])
        elif found["csi"]:
            self._sequence(found["csi"])
        elif found["esc"]:
            if found["esc"] == "\x1b8":
                self._pen_said = False
            elif found["esc"][1] in "DEM":
                self._needs_pen("scrolling")
        elif found["plain"]:
            self._needs_pen(f"text {found['plain'][:20]!r}")
            self._text(found["plain"])
        elif found["control"] == "\n":
            self._needs_pen("a line feed")

    def _text(self, text: str) -> None:
        self.drawn += len(text)
        for character in text:
            if 0x1F000 <= ord(character) <= 0x1FFFF or 0x2600 <= ord(character) <= 0x27BF:
                self._fault(f"picture {character!r}")
            if category(character) in {"Cc", "Co", "Cs"} or bidirectional(character) in TURNING:
                self._fault(f"unseen {character!r}")
            if character in PICTURE_MAKERS:
                self._fault(f"unseen {character!r}")

    def _sequence(self, csi: str) -> None:
        if csi.endswith("m"):
            self._pen(csi)
        elif FILLING.fullmatch(csi):
            self._needs_pen(f"fill {csi!r}")
        elif not (MOVING.fullmatch(csi) or ASKING.fullmatch(csi) or MODE.fullmatch(csi)):
            self._fault(f"sequence {csi!r}")

    def _pen(self, csi: str) -> None:
        found = (CONSOLE_PEN if self.console else PEN).fullmatch(csi)
        self._pen_said = True
        if found is None:
            # The terminal's own plain colours are red only once it was told so.
            self._pen_said = False
            if csi != "0m":
                self._fault(f"pen {csi!r}")
        elif not self.console and max(int(found[1]), int(found[2])) > self.level:
            self._fault(f"pen {csi!r} brighter than {self.level}")

    def _console_command(self, command: str) -> None:
        self.released = self.released or command == "R"
        if not self.console:
            self._fault(f"console command {command!r}")
        elif command != "R" and (command[4:] != "0000" or int(command[2:4], 16) > self.level):
            self._fault(f"palette {command!r}")

    def _command(self, command: str, end: str) -> None:
        if command in {"104", "R"}:
            self.released = True
        elif found := COLOUR.fullmatch(command):
            self.palette.add(command.rsplit(";", 1)[0])
            if int(found[1], 16) > self.level:
                self._fault(f"palette {command!r} brighter than {self.level}")
        elif not re.fullmatch(r"[012];[^\x00-\x1f\x7f-\x9f]*|22;[a-z-]+", command):
            self._fault(f"command {command!r}")
        elif end == "\x07":
            self._fault("a bell at the end of a command")

    def _needs_pen(self, what: str) -> None:
        if not self._pen_said:
            self._fault(f"{what} before any pen")

    def _fault(self, words: str) -> None:
        self.faults.append(words)
