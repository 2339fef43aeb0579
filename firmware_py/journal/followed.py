"""What the tables follow: runs, prints, baths and plates, each with its fold, its row and a version of it."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol

from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.bath_rows import put_bath, row_of_bath
from firmware_py.journal.box_record import BoxRecord, HolderRecord
from firmware_py.journal.box_rows import put_box, put_holder, row_of_box, row_of_holder
from firmware_py.journal.events import Entry
from firmware_py.journal.life_record import PlateRecord
from firmware_py.journal.life_rows import put_plate, row_of_plate
from firmware_py.journal.places import Table, place_of
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.print_rows import put_print, row_of_print
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.run_rows import is_telling, put, replayed, row_of_run, words_of_run


class Record(Protocol):
    """A subject as its fold makes it."""

    @property
    def state(self) -> str:
        """Get its state; nothing more comes after "ended" but remarks."""
        ...

    def apply(self, entry: Entry) -> None:
        """Take in the next entry, or raise Refused."""
        ...


@dataclass(frozen=True, slots=True)
class Followed:
    """A kind of subject by its ``first`` event. Raise ``version`` when a row would come out otherwise."""

    table: Table
    tables: tuple[str, ...]
    version: int
    first: str
    begin: Callable[[Entry], Record]
    replay: Callable[[Sequence[Entry]], Record]
    put: Callable[[sqlite3.Connection, Any], None]
    refill: Callable[[sqlite3.Connection, Sequence[Entry]], None]
    is_telling: Callable[[Entry], bool]


def _put_run(connection: sqlite3.Connection, record: RunRecord) -> None:
    put(connection, row_of_run(record), words_of_run(record))


def _refill_run(connection: sqlite3.Connection, entries: Sequence[Entry]) -> None:
    put(connection, *replayed(entries))


def _put_print(connection: sqlite3.Connection, record: PrintRecord) -> None:
    put_print(connection, row_of_print(record), place_of(connection, "print", record.print_id))


def _refill_print(connection: sqlite3.Connection, entries: Sequence[Entry]) -> None:
    _put_print(connection, PrintRecord.replay(entries))


def _put_bath(connection: sqlite3.Connection, record: BathRecord) -> None:
    put_bath(connection, row_of_bath(record), place_of(connection, "bath", record.subject))


def _refill_bath(connection: sqlite3.Connection, entries: Sequence[Entry]) -> None:
    _put_bath(connection, BathRecord.replay(entries))


def _put_box(connection: sqlite3.Connection, record: BoxRecord) -> None:
    put_box(connection, row_of_box(record), place_of(connection, "box", record.subject))


def _refill_box(connection: sqlite3.Connection, entries: Sequence[Entry]) -> None:
    _put_box(connection, BoxRecord.replay(entries))


def _put_holder(connection: sqlite3.Connection, record: HolderRecord) -> None:
    put_holder(connection, row_of_holder(record), place_of(connection, "holder", record.subject))


def _refill_holder(connection: sqlite3.Connection, entries: Sequence[Entry]) -> None:
    _put_holder(connection, HolderRecord.replay(entries))


def _put_plate(connection: sqlite3.Connection, record: PlateRecord) -> None:
    put_plate(connection, row_of_plate(record), place_of(connection, "plate", record.subject))


def _refill_plate(connection: sqlite3.Connection, entries: Sequence[Entry]) -> None:
    _put_plate(connection, PlateRecord.replay(entries))


RUNS = Followed(
    table="run",
    tables=("run", "run_words"),
    version=2,
    first="RunOpened",
    begin=RunRecord.begin,
    replay=RunRecord.replay,
    put=_put_run,
    refill=_refill_run,
    is_telling=is_telling,
)
PRINTS = Followed(
    table="print",
    tables=("print",),
    version=1,
    first="PrintOpened",
    begin=PrintRecord.begin,
    replay=PrintRecord.replay,
    put=_put_print,
    refill=_refill_print,
    is_telling=lambda _: True,
)
BATHS = Followed(
    table="bath",
    tables=("bath",),
    version=1,
    first="BathMade",
    begin=BathRecord.begin,
    replay=BathRecord.replay,
    put=_put_bath,
    refill=_refill_bath,
    is_telling=lambda _: True,
)
BOXES = Followed(
    table="box",
    tables=("box",),
    version=1,
    first="BoxEntered",
    begin=BoxRecord.begin,
    replay=BoxRecord.replay,
    put=_put_box,
    refill=_refill_box,
    is_telling=lambda _: True,
)
HOLDERS = Followed(
    table="holder",
    tables=("holder",),
    version=1,
    first="HolderEntered",
    begin=HolderRecord.begin,
    replay=HolderRecord.replay,
    put=_put_holder,
    refill=_refill_holder,
    is_telling=lambda _: True,
)
PLATES = Followed(
    table="plate",
    tables=("plate",),
    version=1,
    first="PlateBoxed",
    begin=PlateRecord.begin,
    replay=PlateRecord.replay,
    put=_put_plate,
    refill=_refill_plate,
    is_telling=lambda _: True,
)
FOLLOWED: tuple[Followed, ...] = (RUNS, PRINTS, BATHS, BOXES, HOLDERS, PLATES)
