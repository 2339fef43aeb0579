"""Declares what ``embertray logbook`` can do with plates: boxes, holders, plates, exposures."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from pathlib import Path

Deed = Callable[[str, str, str], argparse.ArgumentParser]
STAGES = ("boxed", "loaded", "exposed", "developing", "fixed", "washed", "dry", "filed", "broken")
SEES = ("blue", "orthochromatic", "panchromatic")


def declare_plates(deed: Deed) -> None:
    """Declare ``boxes``, ``holders``, ``plates`` and ``exposures``."""
    _declare_boxes(deed("boxes", "plates.tell_boxes", "the boxes of plates in use, or enter one"))
    _declare_holders(deed("holders", "plates.tell_holders", "the holders and what their sides hold"))
    _declare_list(deed("plates", "plates.tell_plates", "the plates, newest first, or move one"))
    _declare_exposures(
        deed(
            "exposures", "exposures.tell_exposures", "the exposures, newest first, or take in a table of them"
        )
    )


def _declare_boxes(parser: argparse.ArgumentParser) -> None:
    does = parser.add_mutually_exclusive_group()
    does.add_argument("--enter", metavar="NAME", help="enter a box; its plates are NAME/1, NAME/2, ...")
    does.add_argument("--put-right", metavar="BOX", help="put right what is said of it here")
    does.add_argument("--finish", metavar="BOX", help="no plate is taken from it any more")
    parser.add_argument("--plates", metavar="N", type=int, default=12, help="how many it holds (12)")
    parser.add_argument("--size", metavar="SIZE", default="", help='as "English half plate"')
    parser.add_argument("--emulsion", metavar="NAME", default="", help="as your safelight tests name it")
    parser.add_argument("--sees", choices=SEES, help="what light the plates see")
    parser.add_argument("--index", metavar="N", help="f/16 at 1/N s in bright sun")
    parser.add_argument("--batch", metavar="WORDS", default="", help="what is written on it")
    parser.add_argument("--opened", metavar="DAY", help='when it was opened, "2026-03-14"')
    parser.add_argument("--why", metavar="WORDS", default="", help="of --finish")


def _declare_holders(parser: argparse.ArgumentParser) -> None:
    does = parser.add_mutually_exclusive_group()
    does.add_argument("--enter", metavar="NAME", help="enter a holder: 3 has the sides 3A and 3B")
    does.add_argument("--set-aside", metavar="HOLDER", help="it is in use no more")
    parser.add_argument("--sides", metavar="A,B", default="A,B", help="what its sides are called (A,B)")
    parser.add_argument("--size", metavar="SIZE", default="", help='as "English half plate"')
    parser.add_argument("--why", metavar="WORDS", default="", help="of --set-aside")


def _declare_list(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--box", metavar="BOX", default="", help="of this box; with --load, from it")
    parser.add_argument("--stage", choices=STAGES, help="only those at this stage")
    parser.add_argument("--limit", metavar="N", type=how_many, default=20, help="how many (20)")
    does = parser.add_mutually_exclusive_group()
    does.add_argument("--load", metavar="SIDE", help="put the next plate of --box, or --plate, into a side")
    does.add_argument("--unload", metavar="SIDE", help="take its plate out, back into a box")
    does.add_argument("--exposed", metavar="SIDE", help="its plate is exposed")
    does.add_argument("--not-exposed", metavar="PLATE", help="it was a mistake to call it exposed")
    for to in ("fixed", "washed", "dry"):
        does.add_argument(f"--{to}", metavar="PLATE", help=f"it is {to}, where no run says so")
    does.add_argument("--file", metavar="PLATE", help="the dry plate is put away --at a place")
    does.add_argument("--broken", metavar="PLATE", help="it broke, or was spoilt; --why")
    does.add_argument("--remark", metavar="PLATE", help="write --why on it")
    parser.add_argument("--plate", metavar="PLATE", default="", help="of --load")
    parser.add_argument("--at", metavar="PLACE", default="", help="of --file")
    parser.add_argument("--why", metavar="WORDS", default="", help="of --unload, --broken, --remark")


def _declare_exposures(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--box", metavar="BOX", default="", help="only those of this box")
    parser.add_argument("--limit", metavar="N", type=how_many, default=20, help="how many (20)")
    does = parser.add_mutually_exclusive_group()
    does.add_argument("--import", dest="table", metavar="FILE.csv", type=Path, help="take in a table")
    does.add_argument(
        "--template",
        metavar="FILE.csv",
        type=Path,
        help="write a table to fill in",
    )
    parser.add_argument("--on", metavar="DATE", default="", help="the day of hours alone in the table")
    parser.add_argument("--offset", metavar="OFFSET", default="", help='of its hours from UTC, as "+02:00"')


def how_many(words: str) -> int:
    """Return how long a list may be."""
    number = int(words)
    if not 1 <= number <= 100_000:
        raise argparse.ArgumentTypeError(f"{number} is not 1 to 100000")
    return number
