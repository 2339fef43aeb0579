"""The keys of the Daylight page."""

from __future__ import annotations

from tui.pages.shared.key_use import NUMBER_KEYS, KeyUse, always

ASKED = (
    "1 the place, 2 the date, 3 the hour, 4 the sky, 5 the plate and its index, 6 the stop, 7 the extension, "
    "8 the filter, 9 the subject and where the light comes from."
)

KEYS: tuple[KeyUse, ...] = (
    KeyUse(
        tuple(NUMBER_KEYS),
        "1-9",
        "change",
        always("change that line"),
        "always",
        f"Change the line of that number: {ASKED} All but date and hour are remembered.",
        numbered=True,
    ),
    KeyUse(
        ("b",),
        "B",
        "box",
        always("box"),
        "always",
        "The box of plates: what the book has learned of it, from its judged plates and their notes of "
        "exposure, corrects the reckoning; the page says by how much and from how many. Nothing typed: none.",
    ),
    KeyUse(("down",), "↑ ↓", "later", always("earlier, later"), "always", "One hour later; ↑ earlier."),
    KeyUse(("up",), "↑", "earlier", always(""), "always", "An hour earlier."),
    KeyUse(("escape",), "Esc", "close_table", always(""), "the table of the day", "Back to the exposure."),
    KeyUse(
        ("d", "pagedown"),
        "D",
        "table",
        always("table of the day"),
        "an exposure is reckoned",
        "The day hour by hour and stop by stop; D again: further down, and back.",
    ),
)
