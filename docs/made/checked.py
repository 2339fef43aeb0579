"""What was checked from outside: every check in tests/reference, with the source that it names."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from docs.made.tables import tidy

REFERENCE = Path(__file__).parents[2] / "tests" / "reference"


def reference_files() -> list[Path]:
    """Return the files that hold checks against something outside."""
    return sorted(REFERENCE.glob("test_*.py"))


def checked_part() -> str:
    """Return each file's words, and under it its checks, each with the source it names."""
    return "\n\n".join(_file(file) for file in reference_files())


def _file(file: Path) -> str:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    head = (ast.get_docstring(tree) or "").partition("\n")[0]
    checks = [f"- {name}: {words}" if words else f"- {name}" for name, words in _checks(tree)]
    return f"**`tests/reference/{file.name}`**: {tidy(head)}\n\n" + "\n".join(checks)


def _checks(tree: ast.Module) -> Iterator[tuple[str, str]]:
    for node in tree.body:
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef) and node.name.startswith("test_"):
            words = " ".join((ast.get_docstring(node) or "").split())
            yield node.name.removeprefix("test_").replace("_", " "), tidy(words)
