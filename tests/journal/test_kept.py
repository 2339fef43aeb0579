"""Every journal that was ever kept is read, brought to the present schema, and replays to what it was."""

from __future__ import annotations

import json
import math
import shutil
from pathlib import Path
from typing import Any

import pytest

from firmware_py.journal.migrations import SCHEMA
from firmware_py.journal.rows import KINDS
from firmware_py.journal.store import Journal
from firmware_py.journal.verify import verify
from tests.journal.keep import KEPT, plates_of, prints_of, runs_of

FILES = sorted(KEPT.glob("*.db"))


def same(kept: Any, now: Any) -> bool:
    """Hold a kept outcome against today's, which may know more; floats to a billionth, as machines differ."""
    match kept:
        case dict():
            return isinstance(now, dict) and all(same(value, now.get(key)) for key, value in kept.items())
        case list():
            return isinstance(now, list | tuple) and len(kept) == len(now) and all(map(same, kept, now))
        case float():
            return isinstance(now, float) and math.isclose(kept, now, rel_tol=1e-9, abs_tol=1e-9)
        case _:
            return bool(kept == now)


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_a_kept_journal_replays_to_what_it_was(file: Path, tmp_path: Path):
    path = Path(shutil.copy(file, tmp_path / "journal.db"))
    was = json.loads(file.with_suffix(".json").read_text(encoding="utf-8"))
    with Journal.open(path) as journal:
        assert same(was, runs_of(journal))
        prints = file.with_suffix(".prints.json")
        if prints.exists():
            assert same(json.loads(prints.read_text(encoding="utf-8")), prints_of(journal))
        plates = file.with_suffix(".plates.json")
        if plates.exists():
            assert same(json.loads(plates.read_text(encoding="utf-8")), plates_of(journal))
    assert verify(path).faults == []


def test_there_is_a_kept_journal_of_this_schema_and_one_with_every_kind_of_event(tmp_path: Path):
    """If this fails, run ``python -m tests.journal.keep`` (see there)."""
    assert f"journal-{SCHEMA}" in {file.stem for file in FILES}
    kinds: set[str] = set()
    for file in FILES:
        path = Path(shutil.copy(file, tmp_path / file.name))
        with Journal.open(path) as journal:
            kinds |= {type(entry.event).__name__ for of in journal.subjects() for entry in journal.read(of)}
    assert kinds == set(KINDS)


def test_a_difference_would_be_seen():
    assert not same([{"a": 1.0}], [{"a": 1.00000001}])
    assert not same([{"a": 1}], [{}])
    assert same({"a": [1.0, None]}, {"a": [1.0 + 1e-12, None], "b": 2})
