"""What was said on the Daylight page, each line with its number."""

from __future__ import annotations

from tui.pages.daylight.outing_words import OutingWords
from tui.pages.shared.time_words import printable


def field_lines(words: OutingWords) -> list[str]:
    """Return the nine lines that can be changed by their numbers."""
    index = words.index or "not said"
    light = words.lighting if words.lighting == "shade" else f"{words.lighting} light"
    said = (
        ("Place", words.place or "not said yet"),
        ("Date", words.day or "not known yet"),
        ("Hour", words.hour or "not known yet"),
        ("Sky", words.sky.replace("-", " ")),
        ("Plate", f"{words.kind}, index {index}"),
        ("Stop", words.stop),
        ("Extension", words.magnification or "none"),
        ("Filter", f"{words.factor} times" if words.factor else "none"),
        ("Subject", f"{words.subject}, {light}"),
    )
    lines = [f" {number} {name:<10}{printable(text)}" for number, (name, text) in enumerate(said, 1)]
    if words.box:
        lines.append(f" B {'Box':<10}{printable(words.box)}")
        lines += [f"   {'':10}{part}" for part in printable(words.learned).split("; ")]
    return lines
