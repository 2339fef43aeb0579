"""Words in lines of a width, however narrow the terminal is made."""

from __future__ import annotations

import textwrap


def wrap(
    words: str,
    width: int,
    *,
    initial_indent: str = "",
    subsequent_indent: str = "",
    max_lines: int | None = None,
    placeholder: str = " …",
) -> list[str]:
    """Return ``words`` in lines of ``width`` columns; of fewer than one are made one, so that none fails."""
    room = max(1, width)
    if max_lines is not None:
        # The library refuses a mark for what is left out that does not itself fit.
        room = max(room, len(subsequent_indent) + len(placeholder.strip()))
    return textwrap.wrap(
        words,
        room,
        initial_indent=initial_indent,
        subsequent_indent=subsequent_indent,
        max_lines=max_lines,
        placeholder=placeholder,
    )
