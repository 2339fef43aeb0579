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
# A part that is written into its page stands between its marker and this line.
END = "<!-- made until here: {name} -->"
_REGION = re.compile(
    MARKER.pattern + r"(?:\n.*?^<!-- made until here: (?P=name) -->$)?", re.MULTILINE | re.DOTALL
)

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


# These are written into the pages, so that whoever reads the files has them too. The craft's docstrings are
# not: such a reader has the code.
WRITTEN = frozenset(name for name in PARTS if not name.startswith("craft ") and name != "checked")


def filled(markdown: str) -> str:
    """Return a page's text with every made part in place; raises KeyError for a part that nobody makes."""
    return _REGION.sub(lambda found: PARTS[found["name"]](), markdown)


def written(markdown: str) -> str:
    """Return a page's file with the parts of `WRITTEN` in place, each between its two lines."""
    return _REGION.sub(_written_part, markdown)


def _written_part(found: re.Match[str]) -> str:
    name, marker = found["name"], f"<!-- made: {found['name']} -->"
    if name not in WRITTEN:
        return marker
    return "\n\n".join([marker, PARTS[name]().strip("\n"), END.format(name=name)])


def pages_with_parts() -> list[Path]:
    """Return the pages that ask for a made part."""
    return [path for path in sorted(PAGES.rglob("*.md")) if MARKER.search(path.read_text(encoding="utf-8"))]


def page(name: str) -> str:
    """Return the text of a page of the manual as it is built."""
    return filled((PAGES / name).read_text(encoding="utf-8"))
