"""``embertray mix``: a mixing card for a formula, from the jars and the balance at hand."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import TYPE_CHECKING

from firmware_py.craft.card import card_figures, card_lines
from firmware_py.craft.formula import Column, Formula
from firmware_py.craft.mixing import Card, mixing_card, printed_batch_ml
from firmware_py.craft.refusal import Refused
from firmware_py.craft.salts import salt_named
from firmware_py.craft.units import read_mass_g
from firmware_py.craft.weighing import USUAL_BALANCE_G
from firmware_py.data.formulary import read_formula, shipped_formula, shipped_formulas
from tui.commands.reckonings.own_unit import bare_ml
from tui.commands.sheet_options import declare_sheet, write_sheet

if TYPE_CHECKING:
    # argparse names this class only privately
    Commands = argparse._SubParsersAction[argparse.ArgumentParser]  # noqa: SLF001 - no public name


def add_mix(commands: Commands) -> None:
    """Declare ``embertray mix``."""
    parser = commands.add_parser("mix", help="a mixing card for a formula")
    parser.add_argument("formula", nargs="?", metavar="FORMULA", help="the name of a formula; see --list")
    parser.add_argument("--list", action="store_true", help="name the formulas there are")
    parser.add_argument("--file", metavar="MY.toml", help="a formula of your own")
    parser.add_argument(
        "--make", metavar="VOLUME", help="how much of the bath, such as 500ml; without it, as printed"
    )
    parser.add_argument(
        "--as",
        dest="column",
        choices=("printed", "metric"),
        default="printed",
        help="which column of the book",
    )
    parser.add_argument("--have", action="append", default=[], metavar="SALT", help="a jar to use instead")
    parser.add_argument("--balance", metavar="MASS", help=f"what the balance shows ({USUAL_BALANCE_G:g}g)")
    declare_sheet(parser, "the card with boxes to tick")
    parser.add_argument("--json", action="store_true", help="print the card as JSON")


def run_mix(args: argparse.Namespace) -> int:
    """Print a mixing card, or the list of formulas; returns 0, or raises `Refused`."""
    if args.list:
        _print_list(as_json=args.json)
        return 0
    formula, column = _chosen(args), _column(args.column)
    card = mixing_card(
        formula,
        _volume_ml(args, formula, column),
        column=column,
        have=tuple(salt_named(text) for text in args.have),
        balance_g=USUAL_BALANCE_G if args.balance is None else read_mass_g(args.balance, where="--balance"),
    )
    line = None if args.sheet is None else _written(card, args)
    if args.json:
        figures = card_figures(card) if line is None else {**card_figures(card), "sheet": str(args.sheet)}
        print(json.dumps(figures, ensure_ascii=False))
        return 0
    print("\n".join(card_lines(card)) if line is None else line)
    return 0


def _written(card: Card, args: argparse.Namespace) -> str:
    """Write the sheet of a card; return the line that says so."""
    from firmware_py.report.sheets.mixing_sheet import mixing_page

    return write_sheet(mixing_page(card), args)


def _chosen(args: argparse.Namespace) -> Formula:
    if bool(args.file) == bool(args.formula):
        raise Refused("one formula, please", where="mix", allowed="FORMULA or --file MY.toml; see mix --list")
    return read_formula(Path(args.file)) if args.file else shipped_formula(args.formula)


def _volume_ml(args: argparse.Namespace, formula: Formula, column: Column) -> float:
    if args.make is None:
        return printed_batch_ml(formula, column)
    return bare_ml(args.make, where="--make")


def _column(name: str) -> Column:
    return "metric" if name == "metric" else "printed"


def _print_list(*, as_json: bool) -> None:
    formulas = shipped_formulas()
    if as_json:
        known = [{"formula": name, "title": one.title, "kind": one.kind} for name, one in formulas.items()]
        print(json.dumps(known, ensure_ascii=False))
        return
    width = max(map(len, formulas))
    for name, one in formulas.items():
        print(f"{name:<{width}}  {one.kind:<9}  {one.title}")
