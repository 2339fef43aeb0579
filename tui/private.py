"""Files that a screen keeps for itself: open to nobody but its own user, whatever his umask says."""

from __future__ import annotations

import os
from pathlib import Path
from typing import Literal, TextIO


def open_private(file: Path, way: Literal["a", "w"]) -> TextIO:
    """Open a text file for adding or anew, made with mode 0600, its folder with 0700 where there is none.

    Raises OSError where that can not be done.
    """
    file.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    return open(file, way, encoding="utf-8", opener=_opened)


def _opened(path: str, flags: int) -> int:
    return os.open(path, flags, 0o600)
