"""Which of the baths on the bench is meant by a step of a routine."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping

from firmware_py.bench.trays.lane import Lane
from firmware_py.craft.formula import MADE_FOR, Kind
from firmware_py.craft.routine import Step
from firmware_py.journal.bath_record import BathRecord


def meant(step: Step, standing: Iterable[BathRecord]) -> BathRecord | None:
    """Return the one bath that a step's words mean, or None where none does, or several do."""
    found = all_meant(step, standing)
    return found[0] if len(found) == 1 else None


def all_meant(step: Step, standing: Iterable[BathRecord]) -> list[BathRecord]:
    """Return the baths that a step's words can mean, oldest first.

    A bath is meant when every word of its name, or else of its formula's name, stands in the step's words,
    and it is of the kind that such a step needs.
    """
    wanted = kind_needed(step)
    fitting = [bath for bath in standing if wanted is not None and bath.made.kind == wanted]
    fitting.sort(key=lambda bath: bath.subject)
    words = _words(step.bath)
    for called in (_name_of, _formula_of):
        found = [bath for bath in fitting if _words(called(bath)) <= words]
        if found:
            return found
    return []


def fits(step: Step, bath: BathRecord) -> bool:
    """Return whether a bath is of the kind that a step needs."""
    return kind_needed(step) in {None, bath.made.kind}


def kind_needed(step: Step) -> Kind | None:
    """Return the kind of bath that a step needs, None where any will do."""
    return MADE_FOR.get(step.kind)


def baths_for(lane: Lane, standing: Mapping[str, BathRecord]) -> list[BathRecord]:
    """Return the standing baths named for the step that goes on and for those to come, each once."""
    record = lane.record
    if record.state == "ended":
        return []
    named = [bath.bath_id for step, bath in sorted(record.baths.items()) if step >= record.next_step]
    return [standing[bath_id] for bath_id in dict.fromkeys(named) if bath_id in standing]


def _name_of(bath: BathRecord) -> str:
    return bath.name


def _formula_of(bath: BathRecord) -> str:
    return bath.made.formula


def _words(text: str) -> frozenset[str]:
    return frozenset(re.findall(r"\w+", text.casefold()))
