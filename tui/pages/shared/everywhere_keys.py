"""The keys that hold on every page."""

from __future__ import annotations

from tui.moment import Moment
from tui.pages.shared.foot_words import is_foot_here
from tui.pages.shared.key_use import KeyUse, always
from tui.pages.shared.page_names import has_foot


def _foot_here(moment: Moment) -> str:
    away = moment.view is not None and has_foot(moment.page) and not is_foot_here(moment)
    return "foot to this page" if away else ""


EVERYWHERE: tuple[KeyUse, ...] = (
    KeyUse(
        ("k",),
        "K",
        "start_controller",
        lambda moment: "start the controller" if moment.may_start else "",
        "no line to the bench",
        "Start the controller again, where no service does so by itself. Runs are taken up by themselves.",
    ),
    KeyUse(
        ("0",),
        "0 ← →",
        "pages",
        always("pages"),
        "always",
        "Turn to any page: 0, then the number it has there. The foot switch comes along to Trays and Lamp; "
        "every page says where it is.",
    ),
    KeyUse(("right",), "→", "next_page", always(""), "always", "Turn to the next page."),
    KeyUse(("left",), "←", "previous_page", always(""), "always", "Turn to the page before."),
    KeyUse(
        ("g",),
        "G",
        "take_foot",
        _foot_here,
        "the foot serves another page",
        "Get the foot switch to this page. A foot that comes down in an exposure always ends that first.",
    ),
    KeyUse(
        ("l",),
        "L",
        "light",
        always(""),
        "always",
        "Make this screen black, once you have said yes. While it is black, L three times in a row lights "
        "it: dimly and for 15 seconds only, as long as a plate bears no light.",
    ),
    KeyUse(("s",), "S", "safelight", always("safelight"), "always", "Switch the safelight on or off."),
    KeyUse(("h", "question_mark"), "H", "help", always("help"), "always", "This page."),
    KeyUse(
        ("q",),
        "Q",
        "leave",
        always("leave"),
        "always",
        "Leave the screen. Runs go on without it; the terminal stays red until you say otherwise.",
    ),
    KeyUse(
        ("plus", "equals_sign"),
        "+ -",
        "brighter",
        always("light"),
        "always",
        "This screen one step brighter or darker, of nine; remembered.",
    ),
    KeyUse(("minus",), "-", "darker", always(""), "always", "One step darker."),
)
