"""The keys of the Lamp page."""

from __future__ import annotations

from collections.abc import Callable

from firmware_py.facts.views.print import PrintView
from tui.moment import Moment
from tui.pages.lamp.print_words import last_print, open_print
from tui.pages.lamp.words import is_exposing, is_lamp_on, next_by_hand, strip_to_choose_from
from tui.pages.shared.key_use import NUMBER_KEYS, KeyUse


def _on_print(words: Callable[[PrintView], str]) -> Callable[[Moment], str]:
    """Offer nothing while paper gets light: then the foot and lamp off are all that matters."""

    def brief(moment: Moment) -> str:
        here = open_print(moment.view)
        return "" if here is None or is_exposing(moment.view) else words(here)

    return brief


def _more(moment: Moment) -> str:
    return "more" if last_print(moment.view) else _on_print(lambda _: "more")(moment)


def _lamp_off(moment: Moment) -> str:
    return "LAMP OFF" if is_lamp_on(moment.view) else ""


KEYS: tuple[KeyUse, ...] = (
    KeyUse(
        ("enter",),
        "Enter",
        "go_on",
        lambda moment: next_by_hand(moment.view),
        "what comes next by hand",
        "Open a print where none is open. Once a sheet has got its light: it is in its first bath.",
    ),
    KeyUse(
        ("space",),
        "Space",
        "foot",
        lambda _: "",
        "the lamp",
        "The foot switch, pressed and let go; the page says what it does next. By foot alone, where a "
        "keyboard can not be held: lamp on, and at the next press lamp off.",
    ),
    KeyUse(("f",), "F", "foot_held", lambda _: "", "the lamp", "The foot switch, held down."),
    KeyUse(
        ("x",),
        "X",
        "lamp_off",
        _lamp_off,
        "the lamp is on",
        "Lamp off at once, whatever it is on for. What the sheet has got is kept.",
    ),
    KeyUse(
        tuple(NUMBER_KEYS),
        "1-9",
        "choose_patch",
        _on_print(lambda here: "patch" if strip_to_choose_from(here) else ""),
        "a strip that is done",
        "This patch of the strip is right: what it got is the base time.",
        numbered=True,
    ),
    KeyUse(
        ("b",),
        "B",
        "base",
        _on_print(lambda _: "base"),
        "a print",
        "Set the base time: what the whole sheet gets, in seconds of full light.",
        types=True,
    ),
    KeyUse(
        ("t",),
        "T",
        "strip",
        _on_print(lambda _: "test strip"),
        "a print",
        "Plan a test strip; the page leads you patch by patch.",
        types=True,
    ),
    KeyUse(
        ("u",),
        "U",
        "burn",
        _on_print(lambda _: "burn"),
        "a print",
        "Burn a place: how many stops more, and where (1/2 sky).",
        types=True,
    ),
    KeyUse(
        ("r",),
        "R",
        "copies",
        _on_print(lambda _: "repeats"),
        "a print",
        "Say how many more prints are wanted.",
        types=True,
    ),
    KeyUse(
        ("a",),
        "A",
        "sheet",
        _on_print(lambda here: "sheet" if here.sheet else ""),
        "a sheet under the lamp",
        "Give the sheet up, call it finished, or let a part that was broken off be good as it is.",
    ),
    KeyUse(
        ("n",),
        "N",
        "note",
        lambda _: "",
        "a print",
        "Write a remark on the print, or on the last one. Nothing can be typed while paper gets light.",
        types=True,
    ),
    KeyUse(
        ("m",),
        "M",
        "more",
        _more,
        "a print",
        "More, by number: distance, paper, how the lamp is used, a verdict, the end of the print, the "
        "program kept, between two patches, a burn taken back. Once the print is over: a verdict on it.",
    ),
)
