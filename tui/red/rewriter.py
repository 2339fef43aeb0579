"""A whitelist for everything that is written to a terminal: unknown means dropped, known is said anew in red.

Nothing that comes in goes out as it was: each sequence is read to its end and written again in one plain
form, so that no terminal can read it in another way than this file did.
"""

from __future__ import annotations

import re
from codecs import getincrementaldecoder

from tui.red.characters import blanks, drawable
from tui.red.colours import checked_level
from tui.red.console_font import shown_by
from tui.red.pen import PenBox

# Longer sequences are dropped whole; so is what is kept of one that never ends.
SEQUENCE_LIMIT = 256
TITLE_LIMIT = 120

_TOKEN = re.compile(
    r"(?P<text>[^\x00-\x1f\x7f-\x9f]+)"
    r"|(?P<control>[\x00-\x1a\x1c-\x1f\x7f-\x9f])"
    r"|\x1b\[(?P<params>[0-?]*)(?P<between>[ -/]*)(?P<final>[@-~])"
    r"|\x1b(?P<string>[\]PX^_])"
    r"|\x1b(?P<set>[ -/]+[0-~])"
    r"|\x1b(?P<short>[0-OQ-WYZ\\`-~])"
)
_UNFINISHED = re.compile(r"\x1b(?:\[(?P<params>[0-?]*)(?P<between>[ -/]*)|(?P<set>[ -/]*))")
_STRING_END = re.compile("[\x07\x18\x1a\x1b\x9c]")
_CONSOLE_COLOUR = re.compile(r"R|P[0-9A-Fa-f]{0,6}(?P<broken>[^0-9A-Fa-f])|P[0-9A-Fa-f]{7}")
_PLAIN_NUMBERS = re.compile(r"[0-9]{0,4}(;[0-9]{0,4}){0,4}")
_TITLE = re.compile(r"([012]);(.*)", re.DOTALL)
_POINTER = re.compile(r"22;([a-z-]{1,30})")

MOVES = frozenset("ABCDEFGHIZ`adefrs")
# These fill cells with the background in use, so the pen must have been said before.
FILLS = frozenset("@JKLMPSTXb")
NUMBERS_OF = {"H": 2, "f": 2, "r": 2, "s": 0, "u": 0}
MODES = frozenset(
    {"1", "7", "25", "1000", "1002", "1003", "1004", "1006", "1015", "1016", "2004", "2026", "2048"}
)
OTHER_SCREEN = frozenset({"47", "1047", "1049"})
ASKS = frozenset({"c", "0c", "5n", "6n", "14t", "16t", "18t"})
PREFIXED = frozenset({">c", ">0c", ">q", ">0q", "?u", "<u", "?6n"})
KEYBOARD = re.compile(r"[<=>][0-9]{0,3}(;[0-9])?u")


class RedOnly:
    """Rewrites a stream of terminal output so that nothing but red can come of it.

    Every cell that is drawn or filled has an explicit foreground and background (r, 0, 0), r at most
    ``level``. Sequences and characters may be cut anywhere between two feeds. ``bell`` lets the bell
    through; ``console`` speaks to a kernel console with its palette of reds; ``other_screen`` lets a
    program go to the terminal's other screen, which else is only cleared for it. While ``is_black``
    nothing that is written can be seen. ``cube`` speaks to a multiplexer, whose cursor is of no sure colour:
    it stays hidden. ``font`` is what a console can show: other characters are drawn by signs that are in it.
    Source: own.
    """

    def __init__(
        self,
        level: int,
        *,
        bell: bool = False,
        console: bool = False,
        other_screen: bool = False,
        cube: bool = False,
        font: frozenset[str] | None = None,
    ) -> None:
        self.in_full_screen = False
        self.is_black = False
        self._box = PenBox(checked_level(level), console=console, cube=cube)
        self._bell = bell
        self._console = console
        self._cube = cube
        self._shown = shown_by(font) if font is not None else str
        self._other_screen = other_screen
        self._pen = self._saved = self._box.plain
        self._said = ""
        self._tail = ""
        self._string = ""
        self._payload = ""
        self._decode = getincrementaldecoder("utf-8")("replace").decode
        self._out: list[str] = []

    def feed(self, data: bytes) -> bytes:
        """Return what may be written of ``data``, as UTF-8; bytes that are not UTF-8 become one sign each."""
        return self.feed_text(self._decode(data)).encode()

    def feed_text(self, text: str) -> str:
        """Return what may be written of ``text``."""
        text, self._tail = self._tail + text, ""
        position = 0
        while position < len(text):
            position = self._string_part(text, position) if self._string else self._next(text, position)
        # A lone surrogate is nothing a terminal can be sent.
        out = "".join(self._out).encode("utf-8", "replace").decode()
        self._out.clear()
        return out

    def plain(self) -> str:
        """Return the sequence for plain text, and go on from there."""
        self._pen = self._box.plain
        self._said = self._box.say(self._pen)
        return self._said

    # --- reading ---

    def _next(self, text: str, position: int) -> int:
        found = _TOKEN.match(text, position)
        if found is None:
            return self._unfinished(text, position)
        match found.lastgroup:
            case "text":
                self._draw(blanks(found[0]) if self.is_black else self._shown(drawable(found[0])))
            case "control":
                self._control(found[0])
            case "final":
                if found.end() - position <= SEQUENCE_LIMIT:
                    self._sequence(found["params"], found["between"], found["final"])
            case "string":
                self._string, self._payload = found["string"], ""
            case "set":
                self._write(f"\x1b{found['set']}" if found["set"] in {"(B", "(0"} else "")
            case _:
                self._short(found["short"])
        return found.end()

    def _unfinished(self, text: str, position: int) -> int:
        found = _UNFINISHED.match(text, position)
        assert found is not None, "only an escape is no token"
        if found.end() < len(text):
            return found.end()
        # The rest may come with the next feed: keep it, but never more than decides what it is.
        keep = SEQUENCE_LIMIT + 1
        inner = found["set"] if found["set"] is not None else ""
        if found["params"] is not None:
            inner = "[" + found["params"][:keep] + found["between"][:keep]
        self._tail = "\x1b" + inner[: 2 * keep]
        return len(text)

    def _string_part(self, text: str, position: int) -> int:
        if self._string == "]" and (end := self._console_colour(text, position)) is not None:
            self._string = ""
            return end
        found = _STRING_END.search(text, position)
        end = found.start() if found else len(text)
        room = SEQUENCE_LIMIT - len(self._payload)
        self._payload += text[position : min(end, position + room)]
        if found is None:
            return end
        if found[0] == "\x07" and self._string != "]":
            return found.end()
        if self._string == "]" and found[0] not in "\x18\x1a":
            self._command(self._payload)
        self._string = ""
        return end if found[0] == "\x1b" else found.end()

    def _console_colour(self, text: str, position: int) -> int | None:
        # A kernel console takes a palette entry of seven digits, or a reset, and no end of string.
        seen = (self._payload + text[position : position + 8])[:8]
        found = _CONSOLE_COLOUR.match(seen)
        if found is None:
            return None
        return position + found.end() - (1 if found["broken"] else 0) - len(self._payload)

    # --- writing ---

    def _write(self, text: str) -> None:
        if text:
            self._out.append(text)

    def _draw(self, text: str) -> None:
        pen = self._box.black if self.is_black else self._box.say(self._pen)
        if text and self._said != pen:
            self._said = pen
            self._write(pen)
        self._write(text)

    def _control(self, character: str) -> None:
        if character == "\n":
            self._draw(character)
        elif character in "\b\t\r" or (character == "\x07" and self._bell):
            self._write(character)

    def _short(self, character: str) -> None:
        if character in "DEM":
            self._draw(f"\x1b{character}")
        elif character in "=>":
            self._write(f"\x1b{character}")
        elif character == "7":
            self._save()
        elif character == "8":
            self._restore()
        elif character == "c":
            self._cleared()

    def _save(self) -> None:
        self._saved = self._pen
        self._draw("\x1b7")

    def _restore(self) -> None:
        # The terminal brings back a pen of its own: say ours again before anything is drawn.
        self._pen, self._said = self._saved, ""
        self._write("\x1b8")

    def _cleared(self) -> None:
        self._pen = self._saved = self._box.plain
        self._write("\x1b[r")
        self._draw("\x1b[2J\x1b[H")

    def _sequence(self, params: str, between: str, final: str) -> None:
        if between:
            self._asked_between(params, between, final)
        elif params[:1] in tuple("<=>?"):
            self._private(params, final)
        elif final == "m":
            self._pen = self._box.changed(self._pen, params)
        elif final == "u" and not params:
            self._restore()
        elif final == "s" and not params:
            self._save()
        elif params + final in ASKS or params + final in {"4h", "4l"}:
            self._write(f"\x1b[{params}{final}")
        elif _PLAIN_NUMBERS.fullmatch(params) and params.count(";") < NUMBERS_OF.get(final, 1):
            self._move_or_fill(params, final)

    def _move_or_fill(self, params: str, final: str) -> None:
        if final in "JK" and params not in {"", "0", "1", "2"}:
            return
        if final in FILLS:
            self._draw(f"\x1b[{params}{final}")
        elif final in MOVES:
            self._write(f"\x1b[{params}{final}")

    def _asked_between(self, params: str, between: str, final: str) -> None:
        if between + final == "!p":
            self._pen = self._saved = self._box.plain
        elif not self._console and (
            (between + final == "$p" and re.fullmatch(r"\??[0-9]{1,4}", params))
            or (between + final == " q" and re.fullmatch(r"[0-6]?", params))
        ):
            self._write(f"\x1b[{params}{between}{final}")

    def _private(self, params: str, final: str) -> None:
        if params[0] == "?" and final in "hl":
            for mode in params[1:].split(";"):
                self._mode(mode, final)
        elif not self._console and (params + final in PREFIXED or KEYBOARD.fullmatch(params + final)):
            self._write(f"\x1b[{params}{final}")

    def _mode(self, mode: str, final: str) -> None:
        if mode in OTHER_SCREEN:
            self.in_full_screen = final == "h"
            if self._other_screen:
                self._write(f"\x1b[?1049{final}")
                self._said = ""
            self._cleared()
        elif mode in MODES and not ((self.is_black or self._cube) and mode + final == "25h"):
            self._write(f"\x1b[?{mode}{final}")

    def _command(self, payload: str) -> None:
        if self._console:
            return
        if title := _TITLE.fullmatch(payload):
            words = "".join(character for character in title[2] if character.isprintable())
            self._write(f"\x1b]{title[1]};{drawable(words)[:TITLE_LIMIT]}\x1b\\")
        elif pointer := _POINTER.fullmatch(payload):
            self._write(f"\x1b]22;{pointer[1]}\x1b\\")
