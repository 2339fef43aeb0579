"""Finds what an event was before one bit of it was flipped: the only change that makes its hash true."""

from __future__ import annotations

import math
import struct
from collections.abc import Iterator, Mapping
from contextlib import suppress

from firmware_py.journal.rows import START_OF_CHAIN, Row, link

Tails = Mapping[str, tuple[int, bytes]]


def mended(row: Row, tails: Tails) -> Row | None:
    """Return ``row`` as it was written, if it is whole or one bit away from it, else None.

    ``tails`` holds the last number and hash of each subject before it. A few thousand hashes at most.
    """
    for candidate in _candidates(row, tails):
        number, previous = tails.get(candidate.subject, (0, START_OF_CHAIN))
        if candidate.number != number + 1:
            continue
        true_hash = link(previous, candidate)
        if candidate.hash == true_hash or (candidate == row and _one_bit_apart(row.hash, true_hash)):
            return candidate._replace(hash=true_hash)
    return None


def _one_bit_apart(one: bytes, other: bytes) -> bool:
    return (int.from_bytes(one, "big") ^ int.from_bytes(other, "big")).bit_count() == 1


def _candidates(row: Row, tails: Tails) -> Iterator[Row]:
    yield row
    for subject in _flipped_text(row.subject):
        if subject in tails or row.number == 1:
            yield row._replace(subject=subject)
    number, _ = tails.get(row.subject, (0, START_OF_CHAIN))
    if row.number != number + 1:
        yield row._replace(number=number + 1)
        return
    yield from (row._replace(schema=row.schema ^ 1 << bit) for bit in range(15))
    yield from (row._replace(boot_s=seconds) for seconds in _flipped_seconds(row.boot_s))
    yield from (row._replace(boot_id=text) for text in _flipped_text(row.boot_id))
    yield from (row._replace(utc=text) for text in _flipped_text(row.utc))
    yield from (row._replace(kind=text) for text in _flipped_text(row.kind))
    yield from (row._replace(body=text) for text in _flipped_text(row.body))


def _flipped_text(text: str) -> Iterator[str]:
    raw = bytearray(text.encode(errors="surrogateescape"))
    for place in range(len(raw)):
        for bit in range(8):
            raw[place] ^= 1 << bit
            with suppress(UnicodeDecodeError):
                yield raw.decode()
            raw[place] ^= 1 << bit


def _flipped_seconds(seconds: float) -> Iterator[float]:
    (bits,) = struct.unpack(">Q", struct.pack(">d", seconds))
    for bit in range(64):
        (value,) = struct.unpack(">d", struct.pack(">Q", bits ^ 1 << bit))
        if math.isfinite(value):
            yield value
