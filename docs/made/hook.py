"""What mkdocs calls: puts the made parts where a page asks for them with ``<!-- made: NAME -->``."""

from __future__ import annotations

import sys
from pathlib import Path

# mkdocs runs its own script, so the project's folder is on no path.
sys.path.insert(0, str(Path(__file__).parents[2]))

from docs.made.parts import filled


def on_page_markdown(markdown: str, **_: object) -> str:
    """Return a page's text with its made parts in place."""
    return filled(markdown)
