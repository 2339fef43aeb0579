"""The keys of the Logbook page."""

from __future__ import annotations

from tui.pages.shared.key_use import KeyUse, always

KEYS: tuple[KeyUse, ...] = (
    KeyUse(
        ("enter",),
        "Enter",
        "open_run",
        always("open"),
        "the list",
        "Open the run that is chosen: its curve, its marks, its steps, how its plate was judged.",
    ),
    KeyUse(
        ("b", "escape"),
        "B",
        "back",
        always("back to the list"),
        "a run, a comparison, an advice",
        "Back to it.",
    ),
    KeyUse(
        ("f",),
        "F",
        "find",
        always("find"),
        "always",
        "Find runs by words: plate, box, developer, date (2026-05), verdict, words of a note. "
        "Nothing typed: all runs, the newest first.",
    ),
    KeyUse(
        ("v",),
        "V",
        "verdict",
        always("verdict"),
        "a run that is over",
        "Judge its plate, dry or by its print: density, contrast, fog, faults, measures. The last counts.",
        types=True,
    ),
    KeyUse(
        ("a",),
        "A",
        "advice",
        always("advice"),
        "a run with a box",
        "What the judged plates of this box in this developer say of its next plate.",
    ),
    KeyUse(
        ("c",),
        "C",
        "compare",
        always("compare"),
        "two runs",
        "Keep this run for comparing; C on another run lays the two over one another.",
    ),
    KeyUse(
        ("down", "tab"),
        "↓",
        "next_run",
        always("↑ choose"),
        "the list",
        "The next run; at the end of the list the book is asked for more.",
    ),
    KeyUse(("up", "shift+tab"), "↑", "previous_run", always(""), "the list", "The run before."),
    KeyUse(("pagedown",), "PgDn", "next_screen", always(""), "the list", "A screenful further down."),
    KeyUse(("pageup",), "PgUp", "previous_screen", always(""), "the list", "A screenful further up."),
)
