"""Does an act on the book of plates: by the controller if one runs, else in the journal itself."""

from __future__ import annotations

import argparse
from pathlib import Path

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.plate import AnyPlateAct
from firmware_py.service.checked_act import checked
from firmware_py.service.one_act import ask_controller
from firmware_py.service.plate_asks import do_in_journal
from firmware_py.service.starting import answers
from firmware_py.settings import read_settings
from firmware_py.settings.paths import journal_path, settings_path, socket_path, state_folder


def do_act(args: argparse.Namespace, act: AnyPlateAct) -> Path:
    """Do an act and return the journal it is in. Raises Refused with the reason.

    The controller is the only writer of its journal; one that is named by ``--journal`` is written here, and
    so is the bench's own while no controller runs.
    """
    checked(act)
    configured = settings_path()
    settings = read_settings(configured) if configured else None
    if args.journal is not None:
        do_in_journal(_existing(args.journal), act, rehearsal=False)
        return Path(args.journal)
    state = state_folder(settings)
    journal, socket = journal_path(state), socket_path(settings, state)
    if answers(socket):
        ask_controller(socket, act)
    else:
        do_in_journal(journal, act, rehearsal=settings is None)
    return journal


def _existing(journal: Path) -> Path:
    if not journal.exists():
        raise Refused("there is no such journal", where=str(journal), allowed="one that is there")
    return journal
