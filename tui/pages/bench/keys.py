"""The keys of the Bench page."""

from __future__ import annotations

from tui.pages.shared.key_use import KeyUse, always

KEYS: tuple[KeyUse, ...] = (
    KeyUse(
        ("enter",),
        "Enter",
        "play",
        always("play the sound"),
        "a bench in sight",
        "Play the sound that is pointed at, so that you know it by ear. Everybody at the bench hears it.",
    ),
    KeyUse(("down", "tab"), "↑ ↓", "next_sound", always("choose"), "always", "Point at another sound."),
    KeyUse(("up", "shift+tab"), "↑", "previous_sound", always(""), "always", "Point at the sound before."),
    KeyUse(("escape",), "Esc", "from_top", always(""), "further down", "Back to the first devices."),
    KeyUse(
        ("pagedown", "d"),
        "D",
        "further",
        always("further down"),
        "more devices than there is room for",
        "Show the devices further down; at their end, begin again.",
    ),
)
