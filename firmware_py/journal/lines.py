"""The open form of the journal: JSON Lines, one event a line, to be read by anything for ever.

The first line is ``{"format": "embertray journal", "version": 1}``. Every other line is an object with

- ``subject``: the UUID of the run or session; ``number``: 1, 2, 3, … within it;
- ``boot_id``, ``boot_s`` [s]: the machine start, and the seconds since; ``utc``: the wall clock (ISO 8601);
- ``schema``: the schema number of the event's kind; ``event``: the event itself, its kind under ``event``,
  the units of its numbers in their names;
- ``hash``: SHA-256 in hex, over the previous hash of the subject and all the above (`rows.link`).
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Annotated, Any, BinaryIO

import msgspec

from firmware_py.journal.refused import JournalRefused
from firmware_py.journal.rows import Row

FORMAT = "embertray journal"
VERSION = 1
LONGEST_LINE = 1 << 20


class Heading(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The first line."""

    format: str
    version: int


class Line(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Every other line: an event."""

    subject: str
    number: int
    boot_id: str
    boot_s: float
    utc: str
    schema: int
    event: msgspec.Raw
    hash: Annotated[str, msgspec.Meta(pattern="^[0-9a-f]{64}$")]


class _Tag(msgspec.Struct, frozen=True):
    event: str


_encode = msgspec.json.Encoder().encode
_decode_line = msgspec.json.Decoder(Line).decode


def written(rows: Iterable[Row]) -> Iterator[bytes]:
    """Yield the lines, each with its end, that stand for ``rows``."""
    yield _encode(Heading(FORMAT, VERSION)) + b"\n"
    for row in rows:
        yield line_of(row)


def line_of(row: Row) -> bytes:
    """Return the line that stands for ``row``, with its end."""
    line = Line(
        subject=row.subject,
        number=row.number,
        boot_id=row.boot_id,
        boot_s=row.boot_s,
        utc=row.utc,
        schema=row.schema,
        event=msgspec.Raw(row.body.encode()),
        hash=row.hash.hex(),
    )
    return escaped(_encode(line)) + b"\n"


def escaped(json: bytes) -> bytes:
    """Return JSON that means the same, with every sign escaped that could act on a terminal."""
    text = json.decode()
    if text.isprintable():
        return json
    return "".join(s if s.isprintable() or s == "\n" else _escape(s) for s in text).encode()


def _escape(sign: str) -> str:
    units = sign.encode("utf-16-be")
    return "".join(f"\\u{units[n]:02x}{units[n + 1]:02x}" for n in range(0, len(units), 2))


def read(file: BinaryIO, name: str) -> Iterator[Row]:
    """Yield the rows of an export opened as ``file``; ``name`` is what refusals call it.

    Raises `JournalRefused` with the number of the line that is not what it should be.
    """
    _heading(file.readline(LONGEST_LINE), f"{name}, line 1")
    for number, line in enumerate(iter(lambda: file.readline(LONGEST_LINE), b""), start=2):
        where = f"{name}, line {number}"
        if not line.endswith(b"\n"):
            raise JournalRefused(
                "the line is cut off, or too long", where=where, allowed="whole lines up to 1 MiB"
            )
        if line.strip():
            yield _row(line, where)


def _heading(line: bytes, where: str) -> None:
    allowed = f'{{"format": "{FORMAT}", "version": {VERSION}}}'
    try:
        heading = msgspec.json.decode(line, type=Heading)
    except (ValueError, RecursionError) as error:
        raise JournalRefused(
            f"not the first line of an export: {error}", where=where, allowed=allowed
        ) from error
    if heading != Heading(FORMAT, VERSION):
        what = f"format {heading.format!r}, version {heading.version} is not known here"
        raise JournalRefused(what, where=where, allowed=allowed)


def _row(line: bytes, where: str) -> Row:
    try:
        said = _decode_line(line)
        event: Any = msgspec.json.decode(said.event)  # written anew, so that spaces between do not matter
        kind = msgspec.convert(event, _Tag).event
        body = _encode(event).decode()
    except (ValueError, RecursionError) as error:
        raise JournalRefused(f"not an event of an export: {error}", where=where) from error
    return Row(
        said.subject,
        said.number,
        said.boot_id,
        said.boot_s,
        said.utc,
        kind,
        said.schema,
        body,
        bytes.fromhex(said.hash),
    )
