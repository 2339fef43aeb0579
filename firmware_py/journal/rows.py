"""How an entry lies in the table, and the chain of hashes that ties each row to the one before."""

from __future__ import annotations

import hashlib
import math
import re
import struct
from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from types import MappingProxyType
from typing import NamedTuple, get_args

import msgspec

from firmware_py.facts.events.event import Event
from firmware_py.facts.events.run import AnyEvent, Entry
from firmware_py.journal.refused import JournalRefused

COLUMNS = "subject, number, boot_id, boot_s, utc, kind, schema, body, hash"
START_OF_CHAIN = bytes(32)
KINDS: Mapping[str, type[Event]] = MappingProxyType(
    {str(kind.__struct_config__.tag): kind for kind in get_args(AnyEvent)}
)

_TYPES = (str, int, str, float, str, str, int, str, bytes)
_SUBJECT = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")
_BOOT_ID = re.compile(r"[!-~]{1,64}")
_encode = msgspec.json.Encoder().encode
_decode = msgspec.json.Decoder(AnyEvent).decode


class Row(NamedTuple):
    """One event as it is stored; ``body`` is the event as JSON, its own tag within."""

    subject: str
    number: int
    boot_id: str
    boot_s: float
    utc: str
    kind: str
    schema: int
    body: str
    hash: bytes

    @property
    def place(self) -> str:
        """Get where in the book this is, for a person."""
        return f"event {self.number} of {self.subject}"


def link(previous: bytes, row: Row) -> bytes:
    """Return the hash of ``row`` in a chain whose last hash is ``previous``.

    SHA-256 over the previous hash, then each column as its type's letter, its length [bytes, 4 big-endian]
    and its bytes: text as UTF-8, whole numbers in decimal, seconds as a big-endian double. Source: own.
    """
    parts = [previous]
    for value in row[:-1]:
        letter, raw = _bytes_of(value)
        parts += (letter, len(raw).to_bytes(4, "big"), raw)
    return hashlib.sha256(b"".join(parts)).digest()


def _bytes_of(value: str | float | bytes) -> tuple[bytes, bytes]:
    match value:
        case str():
            return b"t", value.encode(errors="surrogateescape")  # damaged text is hashed as it lies there
        case int():
            return b"i", str(value).encode()
        case float():
            return b"f", struct.pack(">d", value)
        case _:
            return b"b", value


def row_of(entry: Entry, previous: bytes) -> Row:
    """Return ``entry`` as the row that follows the hash ``previous``.

    Raises `JournalRefused` for anything that could not be read back as it is.
    """
    event = entry.event
    row = Row(
        entry.subject,
        entry.number,
        entry.boot_id,
        float(entry.boot_s) + 0.0,  # SQLite keeps no negative zero
        entry.utc,
        str(event.__struct_config__.tag),
        event.SCHEMA,
        _body_of(entry),
        b"",
    )
    faults = column_faults(row)
    if faults:
        raise JournalRefused("; ".join(faults), where=row.place)
    return row._replace(hash=link(previous, row))


def _body_of(entry: Entry) -> str:
    try:
        body = _encode(entry.event)
        same = _decode(body) == entry.event
    except (msgspec.MsgspecError, UnicodeError, TypeError) as error:
        raise JournalRefused(f"the event can not be kept: {error}", where=entry.subject) from error
    if not same:
        what = "the event would not be read back as it is"
        raise JournalRefused(what, where=entry.subject, allowed="finite numbers")
    return body.decode()


def column_faults(row: Row) -> list[str]:
    """Return what is wrong with the columns around the body, in words; none for a good row."""
    faults = []
    if not _SUBJECT.fullmatch(row.subject):
        faults.append(f"the subject {row.subject!r} is not a UUID")
    if not (math.isfinite(row.boot_s) and row.boot_s >= 0.0):
        faults.append(f"boot_s is {row.boot_s}, not a time since the start of the machine")
    if not _BOOT_ID.fullmatch(row.boot_id):
        faults.append(f"the boot id {row.boot_id!r} is not 1 to 64 plain characters")
    if not _is_utc(row.utc):
        faults.append(f"{row.utc!r} is not an ISO 8601 moment in UTC")
    return faults


def _is_utc(text: str) -> bool:
    try:
        return text.isascii() and datetime.fromisoformat(text).utcoffset() == timedelta(0)
    except ValueError:
        return False


def followed(row: Row, number: int, previous: bytes) -> Entry:
    """Return the entry that ``row`` holds, if it follows ``number`` and its hash follows ``previous``.

    Raises `JournalRefused` for anything wrong with it, naming its place.
    """
    faults = column_faults(row)
    if row.number != number + 1:
        faults.append(f"it does not follow number {number}")
    if faults:
        raise JournalRefused("; ".join(faults), where=row.place)
    entry = entry_of(row)
    if row.hash != link(previous, row):
        raise JournalRefused("its hash does not follow from what it holds", where=row.place)
    return entry


def proven(chain: Iterable[Row]) -> list[Entry]:
    """Return the entries of a subject's rows from its first on; refuse the first that does not follow."""
    number, previous, entries = 0, START_OF_CHAIN, []
    for row in chain:
        entries.append(followed(row, number, previous))
        number, previous = row.number, row.hash
    return entries


def wrong_types(row: Row) -> list[str]:
    """Return the names of the columns with a value of another kind than belongs there, as damage makes."""
    if tuple(map(type, row)) == _TYPES:
        return []
    return [n for n, value, kind in zip(Row._fields, row, _TYPES, strict=True) if type(value) is not kind]


def entry_of(row: Row) -> Entry:
    """Return the entry that ``row`` holds; refuse one this program can not understand, naming its place."""
    wrong = wrong_types(row)
    if wrong:
        raise JournalRefused(f"damaged: {', '.join(wrong)}", where=row.place)
    kind = KINDS.get(row.kind)
    if kind is None or row.schema > kind.SCHEMA:
        known = f"{row.kind} up to schema {kind.SCHEMA}" if kind else ", ".join(KINDS)
        found = f"{row.kind} (schema {row.schema}) comes from a newer program, or is damaged"
        raise JournalRefused(found, where=row.place, allowed=known)
    try:
        event = _decode(row.body)
    except (ValueError, RecursionError) as error:
        raise JournalRefused(f"{row.kind} can not be understood: {error}", where=row.place) from error
    if type(event).__name__ != row.kind:
        what = f"the body is a {type(event).__name__}, the row says {row.kind}"
        raise JournalRefused(what, where=row.place)
    subject, number, boot_id, boot_s, utc = row[:5]
    return Entry(subject=subject, number=number, boot_id=boot_id, boot_s=boot_s, utc=utc, event=event)
