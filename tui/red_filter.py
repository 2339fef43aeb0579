"""The line filter: each segment that Textual is about to draw, with both colours red. It must stand last."""

from __future__ import annotations

from functools import lru_cache

from rich.color import Color as RichColor
from rich.segment import Segment
from rich.style import Style
from rich.terminal_theme import DEFAULT_TERMINAL_THEME
from textual.color import Color
from textual.filter import LineFilter

from tui.red.colours import red_of_rgb
from tui.red.pen import CONTRAST_FLOOR


class RedFilter(LineFilter):
    """Turns foreground and background of every segment into reds no brighter than ``level``."""

    def __init__(self, level: int) -> None:
        super().__init__()
        self.level = level

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:  # noqa: ARG002 - Textual's door
        """Return the segments with explicit reds; control segments are none of ours."""
        level = self.level
        return [
            segment if segment.control else Segment(segment.text, red_style(segment.style, level))
            for segment in segments
        ]


BLACK = Style(color=RichColor.from_rgb(0, 0, 0), bgcolor=RichColor.from_rgb(0, 0, 0))


class BlackFilter(RedFilter):
    """Turns every segment into blanks, black on black: what is not there no terminal can set off."""

    def __init__(self) -> None:
        super().__init__(0)

    def apply(self, segments: list[Segment], background: Color) -> list[Segment]:  # noqa: ARG002 - Textual's door
        """Return blanks for the segments; control segments are none of ours."""
        return [
            segment if segment.control else Segment(" " * segment.cell_length, BLACK) for segment in segments
        ]


@lru_cache(2048)
def red_style(style: Style | None, level: int) -> Style:
    """Return a style in reds: colours explicit, no blinking, no link, no manner of unsure colour."""
    style = style or Style.null()
    fg, fg_meant = _red(style.color, level, level)
    bg, bg_meant = _red(style.bgcolor, 0, level)
    if not (fg_meant and bg_meant) and abs(fg - bg) < CONTRAST_FLOOR * level:
        fg = level if 2 * bg < level else 0
    if style.dim:
        fg = fg * 3 // 5
    return Style(
        color=RichColor.from_rgb(fg, 0, 0),
        bgcolor=RichColor.from_rgb(bg, 0, 0),
        bold=style.bold,
        reverse=style.reverse,
        meta=style.meta or None,
    )


def _red(color: RichColor | None, default: int, level: int) -> tuple[int, bool]:
    if color is None or color.is_default:
        return default, True
    red, green, blue = color.get_truecolor(DEFAULT_TERMINAL_THEME)
    return red_of_rgb((red, green, blue), level), green == blue == 0
