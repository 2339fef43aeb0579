"""What is said before the screen goes black, and asked: nobody shall sit in the dark without a way out."""

from __future__ import annotations

from collections.abc import Callable

from tui.widgets.asking import Question

WAY_BACK = (
    "In the dark L THREE TIMES lights it again, dimly, for 15 s.",
    "Every cue has its tune; foot and keys act: Space: foot. F: foot held. P: pull.",
)


def plate_question(then: Callable[[], None]) -> Question:
    """Ask before a plate comes onto the bench that bears no light."""
    words = (
        "This plate needs TOTAL DARKNESS: safelight off, screen BLACK until it is fixed.",
        "Trays laid out, boxes closed, door shut?",
        *WAY_BACK,
    )
    return Question("\n".join(words), lambda _: then())


def screen_question(then: Callable[[], None]) -> Question:
    """Ask before the screen is made black by hand."""
    words = ("Make this screen BLACK?", *WAY_BACK)
    return Question("\n".join(words), lambda _: then())
