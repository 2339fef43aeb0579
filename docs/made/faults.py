"""What the bench says when something is wrong: notices, interlocks, refusals."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from docs.made.tables import table, tidy
from firmware_py.bench.matters import MATTERS

ROOT = Path(__file__).parents[2]
# Where what a person at the bench may be refused is written; the craft and files of one's own refuse alike.
REFUSING = ("bench", "service", "switchboard", "devices", "settings")
SHOWN_BY = {"thermometry": "tests/faults/test_rehearsed_faults.py"}


def notices_part() -> str:
    """Return the notices, troubles first, each with its cause and what to do."""
    kinds = sorted(MATTERS.items(), key=lambda found: (not found[1].trouble, found[0]))
    rows = [
        (tidy(matter.says), "trouble" if matter.trouble else "news", tidy(matter.cause), tidy(matter.to_do))
        for _, matter in kinds
    ]
    return table(("it says", "is", "because", "do this"), rows)


@dataclass(frozen=True, slots=True)
class Watcher:
    """A file that watches over an interlock: its number, its rule in words, the file, and its test."""

    number: int
    rule: str
    file: Path

    @property
    def shown_by(self) -> str:
        """Get the test that shows it."""
        return SHOWN_BY.get(self.file.stem, f"tests/bench/interlocks/test_{self.file.stem}.py")


def watchers() -> list[Watcher]:
    """Return every watcher of an interlock, by number: a file whose first words are the rule."""
    found = []
    for file in sorted((ROOT / "firmware_py" / "bench").rglob("*.py")):
        first = file.read_text(encoding="utf-8").partition("\n")[0]
        if first.startswith('"""Interlock '):
            number, _, rule = first.removeprefix('"""Interlock ').removesuffix('"""').partition(": ")
            found.append(Watcher(int(number), rule[:1].upper() + rule[1:], file.relative_to(ROOT)))
    return sorted(found, key=lambda watcher: watcher.number)


def interlocks_part() -> str:
    """Return the interlocks: the rule, the file that watches over it, the test that shows it."""
    rows = [(str(w.number), tidy(w.rule), f"`{w.file}`", f"`{w.shown_by}`") for w in watchers()]
    return table(("interlock", "rule", "kept by", "shown by"), rows)


@dataclass(frozen=True, slots=True)
class Refusal:
    """A refusal as it is written in the code: where, what, what is allowed; … stands for what varies."""

    where: str
    what: str
    allowed: str


# What the classes of a refusal are called (`firmware_py.craft.refusal`).
KINDS = frozenset({"Refused", "WrongInput", "NotNow", "Locked", "DeviceTrouble"})


@cache
def refusals_part() -> str:
    """Return every refusal that the bench and what is under it can give."""
    rows = sorted({(tidy(r.where), tidy(r.what), tidy(r.allowed)) for r in refusals()})
    return table(("where", "it says", "allowed"), rows)


def refusals() -> Iterator[Refusal]:
    """Yield the refusals written in the code of the bench and what is under it."""
    for room in REFUSING:
        for file in sorted((ROOT / "firmware_py" / room).rglob("*.py")):
            text = file.read_text(encoding="utf-8")
            for node in ast.walk(ast.parse(text)) if "craft.refusal" in text else ():
                if isinstance(node, ast.Call) and _called(node) in KINDS and node.args:
                    named = {word.arg: written(word.value) for word in node.keywords}
                    what = written(node.args[0])
                    if what.strip("… "):
                        yield Refusal(named.get("where", ""), what, named.get("allowed", ""))


def _called(call: ast.Call) -> str:
    return call.func.id if isinstance(call.func, ast.Name) else ""


def written(node: ast.expr) -> str:
    """Return a text as it is written, with … for each value."""
    match node:
        case ast.Constant(value=str(words)):
            return words
        case ast.JoinedStr(values=parts):
            return "".join(written(part) for part in parts)
        case ast.BinOp(left=left, right=right):
            return written(left) + written(right)
        case ast.IfExp(body=body, orelse=other):
            return f"{written(body)} / {written(other)}"
        case _:
            return "…"
