"""Every part of the manual that is made, by its name."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from functools import partial
from pathlib import Path

from docs.made.checked import checked_part
from docs.made.craft import GROUPS, craft_part
from docs.made.faults import interlocks_part, notices_part, refusals_part
from docs.made.files import FILES, file_part
from docs.made.hazards import hazards_part
from docs.made.journal import events_part
from docs.made.keys import keys_part
from docs.made.settings import settings_part
from docs.made.sounds import sounds_part

PAGES = Path(__file__).parents[1]
MARKER = re.compile(r"^<!-- made: (?P<name>[\w -]+) -->$", re.MULTILINE)

PARTS: Mapping[str, Callable[[], str]] = {
    "settings": settings_part,
    "hazards": hazards_part,
    "keys": keys_part,
    "sounds": sounds_part,
    "notices": notices_part,
    "interlocks": interlocks_part,
    "refusals": refusals_part,
    "events": events_part,
    "checked": checked_part,
    **{f"craft {group}": partial(craft_part, group) for group in GROUPS},
    **{f"file {kind}": partial(file_part, kind) for kind in FILES},
}


def filled(markdown: str) -> str:
    """Return a page's text with every marker replaced; raises KeyError for a part that nobody makes."""
    return MARKER.sub(lambda found: PARTS[found["name"]](), markdown)


def page(name: str) -> str:
    """Return the text of a page of the manual as it is built."""
    return filled((PAGES / name).read_text(encoding="utf-8"))
