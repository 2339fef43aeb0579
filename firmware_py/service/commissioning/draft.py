"""The bench.toml that comes of it: the person's own file with what was found, written whole or not at all."""

from __future__ import annotations

import os
import shutil
from datetime import datetime
from pathlib import Path
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from firmware_py.craft.refusal import Refused
from firmware_py.settings import Settings, read_settings
from firmware_py.strict_toml import FILE_LIMIT, read_text, read_toml_text


class Draft:
    """A bench.toml being changed; its comments and order stay. ``settings`` is what it means by now."""

    def __init__(self, text: str, *, where: str) -> None:
        self._where = where
        self.settings = read_toml_text(text, Settings, where=where)
        try:
            self._document = tomlkit.parse(text)
        except TOMLKitError as error:
            raise Refused(f"is not TOML: {error}", where=where) from error
        self.changes: list[str] = []

    @classmethod
    def of(cls, path: Path) -> Draft:
        """Return the draft that begins as a file. Raises Refused where that is no bench.toml."""
        return cls(read_text(path, FILE_LIMIT), where=str(path))

    @property
    def text(self) -> str:
        """Get the file as it would be written."""
        return tomlkit.dumps(self._document)

    def put(self, *path_and_value: Any) -> None:  # noqa: ANN401 - keys, then what TOML can hold
        """Set a key, as ``put("lamp", "lag", "35 ms")``. Raises Refused, and changes nothing, if wrong."""
        self.put_all(path_and_value)

    def put_all(self, *changes: tuple[Any, ...]) -> None:
        """Set several keys at once, each as in `put`. Raises Refused, and changes nothing, as that does."""
        before = self.text
        told = []
        for *tables, key, value in changes:
            table: Any = self._document
            for name in tables:
                if name not in table:
                    table.add(name, tomlkit.table())
                table = table[name]
            table[key] = value
            told.append(f"{'.'.join([*tables, key])} = {value!r}")
        self._accept(before, told)

    def _accept(self, before: str, told: list[str]) -> None:
        try:
            self.settings = read_toml_text(self.text, Settings, where=self._where)
        except Refused:
            self._document = tomlkit.parse(before)
            raise
        self.changes += told

    def write(self, path: Path, *, now: datetime, heading: str) -> Path | None:
        """Write the file whole; return where the old one is kept, None if there was none.

        Raises Refused, with the old file as it was, where it cannot be written or would not be read.
        """
        new = path.with_name(f".{path.name}.new")
        kept = path.with_name(f"{path.name}.before-{now:%Y%m%dT%H%M%S}")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            new.unlink(missing_ok=True)
            with new.open("x", encoding="utf-8") as file:  # never through a link that somebody put there
                file.write(f"# {heading}\n{_without_heading(self.text)}")
                file.flush()
                os.fsync(file.fileno())
            read_settings(new)
            if path.exists():
                shutil.copy2(path, kept)
            new.replace(path)
        except OSError as error:
            raise Refused(f"cannot be written ({error.strerror})", where=str(path)) from error
        finally:
            new.unlink(missing_ok=True)
        return kept if kept.exists() else None


def _without_heading(text: str) -> str:
    """Return the text without the heading of an earlier commissioning."""
    lines = text.splitlines(keepends=True)
    return "".join(lines[1:] if lines and lines[0].startswith("# Commissioned ") else lines)
