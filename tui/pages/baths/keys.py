"""The keys of the Baths page."""

from __future__ import annotations

from collections.abc import Callable

from tui.moment import Moment
from tui.pages.shared.key_use import NUMBER_KEYS, KeyUse, always


def _with_bath(words: str) -> Callable[[Moment], str]:
    return lambda moment: words if moment.view is not None and moment.view.baths else ""


def _heat(moment: Moment) -> str:
    return "warmth" if moment.view is not None and moment.view.heater is not None else ""


def _probe(moment: Moment) -> str:
    return "probe" if moment.view is not None and moment.view.probes else ""


def _temperature(moment: Moment) -> str:
    lanes = moment.view.lanes if moment.view is not None else ()
    return "temperature" if any(lane.state != "ended" for lane in lanes) else ""


KEYS: tuple[KeyUse, ...] = (
    KeyUse(
        ("enter",),
        "Enter",
        "bath",
        _with_bath("this bath"),
        "a bath",
        "What to do with the bath that is chosen: use it for a step of a tray, bring the water to its "
        "temperature, say how long a plate took to clear, put its day right, discard it.",
    ),
    KeyUse(("m",), "M", "make", always("make new"), "always", "Make a new bath by a formula of the shelf."),
    KeyUse(
        ("d",),
        "D",
        "discard",
        _with_bath("discard"),
        "a bath",
        "Pour the bath that is chosen away. Asked once more; refused while a plate lies in it.",
    ),
    KeyUse(
        ("w",),
        "W",
        "heat",
        _heat,
        "a bench with a heater",
        "Set the heater, or let it be. One that a watcher stopped stays off until you do.",
    ),
    KeyUse(
        ("t",),
        "T",
        "temperature",
        _temperature,
        "a plate on the bench",
        "Say a bath's temperature as you read it (19.4, or 67 F), while no probe speaks.",
        types=True,
    ),
    KeyUse(
        ("p",),
        "P",
        "probe",
        _probe,
        "a bench with a probe",
        "Calibrate a probe, in melting ice or against a thermometer. After a year the page reminds you.",
    ),
    KeyUse(
        tuple(NUMBER_KEYS),
        "1-9",
        "choose",
        always(""),
        "several baths",
        "Choose the bath of that number; ↓ and ↑ choose the next and the one before.",
        numbered=True,
    ),
    KeyUse(("down", "tab"), "↓", "next_bath", _with_bath("↑ choose"), "several baths", "The next bath."),
    KeyUse(("up", "shift+tab"), "↑", "previous_bath", always(""), "several baths", "The bath before."),
)
