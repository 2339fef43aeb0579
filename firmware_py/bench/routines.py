"""Routines as a person writes them: TOML files, read into `firmware_py.craft.routine.Routine`."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import resources
from pathlib import Path

from firmware_py.bench.routine_text import MarkText, RoutineText
from firmware_py.bench.vocabulary import Role, Vocabulary, shipped_vocabulary
from firmware_py.craft.refusal import Refused
from firmware_py.craft.routine import Routine, Step
from firmware_py.strict_toml import line_in, read_toml


def read_routine(path: Path, vocabulary: Vocabulary | None = None) -> Routine:
    """Return the routine in a file, called after the file; ``vocabulary`` are the bench's marks.

    Raises Refused with file, line, key, what was found and what is allowed.
    """
    vocabulary = vocabulary or shipped_vocabulary()
    text = read_toml(path, RoutineText)
    steps = tuple(_steps(path, text))
    marks = [MarkText(name=m) if isinstance(m, str) else m for m in text.marks or vocabulary.names]
    appearance = _with_role("appearance", marks, vocabulary)
    clearing = _with_role("clearing", marks, vocabulary)
    names = [mark.name for mark in marks]
    if any(s.development and s.development.factor for s in steps) and appearance not in names:
        names.insert(0, appearance)
    if any(s.clearing for s in steps) and clearing not in names:
        names.append(clearing)
    return Routine(
        name=path.stem,
        title=text.title,
        source=text.source,
        steps=steps,
        marks=tuple(names),
        appearance_mark=appearance,
        clearing_mark=clearing,
        sheet=text.sheet,
        foot_marks=vocabulary.by_foot(names),
    )


def shipped_routines(vocabulary: Vocabulary | None = None) -> Mapping[str, Routine]:
    """Return the routines that come with Embertray, by name."""
    folder = resources.files("firmware_py.data") / "routines"
    with resources.as_file(folder) as path:
        return routines_in(path, vocabulary)


def routines_in(folder: Path, vocabulary: Vocabulary | None = None) -> dict[str, Routine]:
    """Return the routines of every ``.toml`` file in a folder, by name; those for plates first."""
    paths = sorted(folder.glob("*.toml"), key=lambda path: path.stem)
    return plates_first({path.stem: read_routine(path, vocabulary) for path in paths})


def plates_first(routines: Mapping[str, Routine]) -> dict[str, Routine]:
    """Return the routines in their order, but those for paper behind those for plates."""
    return dict(sorted(routines.items(), key=lambda named: named[1].sheet != "plate"))


def _steps(path: Path, text: RoutineText) -> list[Step]:
    steps = []
    for number, step in enumerate(text.step):
        try:
            steps.append(step.step())
        except Refused as refusal:
            line = line_in(path.read_text(encoding="utf-8"), f"step[{number}].development")
            raise refusal.at(f"{path}, {line}, step {number + 1} ({step.name})") from refusal
    return steps


def _with_role(role: Role, marks: list[MarkText], vocabulary: Vocabulary) -> str:
    """Return the mark of the routine that says it has the role, or the one of the bench's list."""
    return next((mark.name for mark in marks if mark.role == role), vocabulary.name_of(role))
