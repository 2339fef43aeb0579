"""Reads what console fonts can show: ``python -m tests.tui.red.console_fonts`` lists what each lacks.

The files are those of Debian's console-setup-linux. Their form: PSF versions 1 and 2, as in the kernel's and
kbd's own description of the format (from memory), checked by the fonts themselves: all have an A.
"""

from __future__ import annotations

import gzip
import struct
from collections.abc import Iterator
from pathlib import Path

from tui.red.console_font import STAND_INS

SHIPPED = Path("/usr/share/consolefonts")
LACKING = Path(__file__).with_name("console_fonts.txt")


def fonts() -> dict[str, frozenset[str]]:
    """Return the characters of each font on this machine that says which it has."""
    read = {path.name: frozenset(_characters(gzip.decompress(path.read_bytes()))) for path in _files()}
    return {name: characters for name, characters in read.items() if characters}


def lacking() -> str:
    """Return the list: for each character that the pages draw, how many fonts lack it, and which few."""
    every = fonts()
    lines = [f"# of {len(every)} fonts"]
    for character in sorted(STAND_INS):
        without = [name.removesuffix(".psf.gz") for name, has in every.items() if character not in has]
        named = " ".join(without) if len(without) <= 6 else ""
        lines.append(f"U+{ord(character):04X} {character} {len(without)} {named}".rstrip())
    return "\n".join(lines) + "\n"


def _files() -> list[Path]:
    return sorted(SHIPPED.glob("*.psf.gz"))


def _characters(font: bytes) -> Iterator[str]:
    if font[:4] == b"\x72\xb5\x4a\x86":
        _, start, flags, count, size = struct.unpack_from("<5I", font, 4)
        entries = font[start + count * size :].split(b"\xff")[:count] if flags & 1 else []
        for entry in entries:
            yield from entry.split(b"\xfe")[0].decode()
    elif font[:2] == b"\x36\x04" and font[2] & 6:
        start = 4 + font[3] * (512 if font[2] & 1 else 256)
        in_sequence = False
        for (code,) in struct.iter_unpack("<H", font[start : start + (len(font) - start) // 2 * 2]):
            if code == 0xFFFF:
                in_sequence = False
            elif code == 0xFFFE:
                in_sequence = True
            elif not in_sequence:
                yield chr(code)


if __name__ == "__main__":
    LACKING.write_text(lacking(), encoding="utf-8")
