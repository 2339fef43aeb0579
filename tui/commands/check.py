"""``embertray check``: reads settings and routines, and says what is wrong."""

from __future__ import annotations

import argparse
import json

from tui.commands.arguments import named


def add_check(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare ``embertray check``."""
    parser = commands.add_parser(
        "check",
        help="read settings and routines, and say what is wrong",
        description="Read everything the bench is told by files, and say of each whether it holds.",
    )
    parser.add_argument("--config", type=named, metavar="FILE", help="the bench.toml that counts")
    parser.add_argument("--json", action="store_true", help="print the findings as JSON")


def run_check(args: argparse.Namespace) -> int:
    """Check; 1 if anything is wrong."""
    from firmware_py.service.checking import check

    findings = list(check(args.config))
    if args.json:
        rows = [{"what": f.what, "wrong": f.wrong, "advice": f.advice} for f in findings]
        print(json.dumps(rows, indent=2, ensure_ascii=False))
    else:
        for finding in findings:
            words = f"WRONG: {finding.wrong}" if finding.wrong else finding.advice or "good"
            print(f"{finding.what}: {words}")
    return 1 if any(f.wrong for f in findings) else 0
