"""Boot the emulated board both ways and print what was measured (``python -m tests.emulated_board``)."""

import argparse
import sys
import tempfile
from pathlib import Path
from typing import Any

from tests.emulated_board.board import boot, failings
from tests.emulated_board.image import make_image, missing_tools

KEPT = Path(tempfile.gettempdir()) / "embertray-emulated-board"


def main() -> int:
    """Return 0 when all was as it must be, or nothing could be run; 1 with words otherwise."""
    parser = argparse.ArgumentParser(
        prog="python -m tests.emulated_board", description=(__doc__ or "").split("(")[0]
    )
    parser.add_argument(
        "--folder", type=Path, default=KEPT, help=f"keeps the image for the next time ({KEPT})"
    )
    args = parser.parse_args()
    missing = missing_tools()
    if missing:
        print(f"skipped: these of Debian's packages are not here: {', '.join(missing)}")
        return 0
    image, wrong = make_image(args.folder), []
    for persistence in (False, True):
        said = boot(image, args.folder, persistence=persistence)
        print_table(said)
        wrong += failings(said, persistence=persistence)
    for words in wrong:
        print(words, file=sys.stderr)
    return 1 if wrong else 0


def print_table(said: list[dict[str, Any]]) -> None:
    """Print what one boot measured."""
    for fact in said:
        match fact["what"]:
            case "board":
                print(f"\npersist_gpio_outputs={fact['persistence']}, Python {fact['python']}")
            case "exposure":
                print(f"  exposure of {fact['wanted_s']:g} s: seen {_seconds(fact['seen_s'])} at the line")
            case "strike":
                last = "lit again" if fact["lit_again"] else f"left as {fact['left_as']}"
                print(
                    f"  {fact['signal']:8} {fact['victims']:12} dark after {_seconds(fact['dark_s'])}"
                    f" (allowed {fact['within_s']:g} s), {last}"
                )


def _seconds(value: float | None) -> str:
    return "never" if value is None else f"{value:.3f} s"


if __name__ == "__main__":
    sys.exit(main())
