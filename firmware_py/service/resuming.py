"""Gives a bench what its journal knows: open runs, baths, probes, the book of plates, the print.

What can not be replayed is left where it is and said so; the others go on.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from firmware_py.bench.bench import Bench
from firmware_py.bench.lamp.print_resume import Traces
from firmware_py.bench.matters import Kind
from firmware_py.craft.refusal import Refused
from firmware_py.journal.bath_record import BathRecord
from firmware_py.journal.print_record import PrintRecord
from firmware_py.journal.probe_record import ProbeRecord
from firmware_py.journal.run_record import RunRecord
from firmware_py.journal.store import Journal
from firmware_py.service.plate_resume import take_up_plates
from firmware_py.switchboard.last_words import last_words_path, read_last_words


def resume_bench(bench: Bench, journal: Journal) -> None:
    """Have a bench go on where its journal ends. Baths come first: the runs that are taken up lie in them."""
    for bath in journal.open_baths():
        with _said_if_damaged(
            bench, "damaged bath", f"Bath {bath.name} cannot be read from the journal", about=bath.bath_id
        ):
            bench.upkeep.baths.resume(BathRecord.replay(journal.read(bath.bath_id)))
    for subject in journal.subjects("ProbeMet"):
        with _said_if_damaged(
            bench,
            "damaged probe",
            "The calibration of a probe cannot be read from the journal",
            about=subject,
        ):
            bench.upkeep.probes.resume(ProbeRecord.replay(journal.read(subject)))
    take_up_plates(
        bench.plates,
        journal,
        lambda words, subject: bench.trouble("damaged plate", words, about=subject),
    )
    for run in journal.open_runs():
        with _said_if_damaged(bench, "damaged run", "A run cannot be read from the journal"):
            bench.runs.resume(RunRecord.replay(journal.read(run.run_id)))
    _resume_lamp(bench, journal)


def _resume_lamp(bench: Bench, journal: Journal) -> None:
    bench.lamp_side.printing.programs.learn(journal.programs())
    boot_id, alive_s = journal.last_moment() or ("", 0.0)
    words = read_last_words(last_words_path(journal.path))
    records = []
    for row in journal.open_prints():
        with _said_if_damaged(bench, "damaged print", "A print cannot be read from the journal"):
            records.append(PrintRecord.replay(journal.read(row.print_id)))
    bench.lamp_side.resume(records, Traces(boot_id, alive_s, words))


@contextmanager
def _said_if_damaged(bench: Bench, kind: Kind, what: str, *, about: str = "") -> Iterator[None]:
    try:
        yield
    except Refused as refusal:
        bench.trouble(kind, f"{what}: {refusal.line}", about=about)
