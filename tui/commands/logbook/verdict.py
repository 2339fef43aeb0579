"""``embertray logbook verdict`` and ``advice``: how a plate came out, and what to do with the next one."""

from __future__ import annotations

import argparse
from pathlib import Path
from typing import get_args

import msgspec

from firmware_py.craft.contrast import LARGEST_GAMMA
from firmware_py.craft.refusal import Refused
from firmware_py.craft.units import read_number
from firmware_py.craft.verdict import Contrast, Density, Fault, Fog
from firmware_py.facts.verdict import DENSEST, Verdict
from firmware_py.journal.box_advice import advice_of_box
from firmware_py.journal.outcome import RunOutcome, outcome
from firmware_py.journal.reading import refusing
from firmware_py.journal.run_list import run_called
from firmware_py.journal.run_record import RunRecord
from firmware_py.settings import read_settings
from firmware_py.settings.paths import settings_path, socket_path, state_folder
from tui.commands.logbook.book import book_path, book_reader, say
from tui.pages.logbook.advice_words import advice_lines
from tui.pages.logbook.words import verdict_words

YES_NO = {"yes": True, "no": False}


def declare_verdict(parser: argparse.ArgumentParser) -> None:
    """Declare what a verdict is made of."""
    add = parser.add_argument
    add("wanted", metavar="RUN", help="its id, the beginning or end of it, or: last")
    add("--plate", metavar="NAME", default="", help="which of several in the tray; else the first")
    add("--after", choices=("drying", "printing"), default="drying", help="judged dry, or by its print")
    add("--density", choices=get_args(Density), required=True)
    add("--contrast", choices=get_args(Contrast), required=True)
    add("--fog", choices=get_args(Fog), default="none")
    add("--fault", choices=get_args(Fault), action="append", default=[], help="again for another")
    add("--shadow", metavar="D", dest="shadow_density", help="density of the thinnest shadow with detail")
    add("--highlight", metavar="D", dest="highlight_density", help="of the densest high light")
    add("--clear", metavar="D", dest="fog_density", help="where no light fell: fog and base")
    add("--gamma", metavar="N", help="read from a step tablet on the plate")
    add("--shadow-detail", choices=YES_NO, help="is there detail in the deepest shadow?")
    add("--blocked", choices=YES_NO, help="are the highlights blocked?")
    add("--remark", metavar="WORDS", default="")


def declare_advice(parser: argparse.ArgumentParser) -> None:
    """Declare which box and developer."""
    parser.add_argument("box", metavar="BOX", help="the name of a box of plates")
    parser.add_argument(
        "--in",
        dest="developer",
        metavar="DEVELOPER",
        default="",
        help="else the one last used",
    )


def give_verdict(args: argparse.Namespace) -> int:
    """Keep a verdict and print it. Raises `Refused`."""
    from firmware_py.facts.acts.book import JudgePlate
    from firmware_py.service.verdict_asks import keep_verdict

    verdict = _verdict(args)
    run_id = _outcome(args, args.wanted).run_id
    act = JudgePlate(run=run_id, plate=args.plate, verdict=verdict)
    keep_verdict(act, book_path(args), _socket(args))
    came = _outcome(args, run_id)
    plate = args.plate or came.plate
    kept = next(one for one in came.verdicts if one.plate == plate)
    told = {"run_id": run_id, "verdict": msgspec.to_builtins(kept)}
    say(args, told, [f"{plate}: {verdict_words(kept, came)}"])
    return 0


def print_advice(args: argparse.Namespace) -> int:
    """Print what the judged plates of a box say of its next one. Raises `Refused`."""
    with book_reader(args) as reader, refusing(reader.path):
        told = advice_of_box(reader.connection, args.box, args.developer)
    say(args, msgspec.to_builtins(told), advice_lines(told))
    return 0


def _verdict(args: argparse.Namespace) -> Verdict:
    if len(args.remark) > 2000:
        raise Refused(f"{len(args.remark)} characters", where="--remark", allowed="up to 2000")
    return Verdict(
        after=args.after,
        density=args.density,
        contrast=args.contrast,
        fog=args.fog,
        faults=tuple(args.fault),
        gamma=_number(args.gamma, "gamma", LARGEST_GAMMA),
        remark=args.remark,
        shadow_density=_number(args.shadow_density, "shadow density", DENSEST),
        highlight_density=_number(args.highlight_density, "highlight density", DENSEST),
        fog_density=_number(args.fog_density, "fog density", DENSEST),
        shadow_detail=YES_NO.get(args.shadow_detail),
        highlights_blocked=YES_NO.get(args.blocked),
    )


def _number(text: str | None, name: str, high: float) -> float | None:
    return None if text is None else read_number(text, where=name, low=0, high=high)


def _outcome(args: argparse.Namespace, wanted: str) -> RunOutcome:
    with book_reader(args) as reader, refusing(reader.path):
        run_id = run_called(reader.connection, wanted).run_id
        return outcome(RunRecord.replay(reader.read(run_id)))


def _socket(args: argparse.Namespace) -> Path | None:
    """Return where the bench's controller listens; none where another journal is named."""
    if args.journal is not None:
        return None
    configured = settings_path()
    settings = read_settings(configured) if configured else None
    return socket_path(settings, state_folder(settings))
