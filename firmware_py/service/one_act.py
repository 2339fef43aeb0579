"""Has the controller at a socket do one act, for a command that does one thing and leaves."""

from __future__ import annotations

from pathlib import Path

from firmware_py.craft.refusal import Refused
from firmware_py.facts.acts.run import AnyAct
from firmware_py.service.messages import Do
from firmware_py.service.talk import talk_with


def ask_controller(path: Path, act: AnyAct) -> None:
    """Let the controller at a socket do an act; return when it is in the book.

    Raises Refused with its words, or where it does not answer.
    """
    try:
        with talk_with(path) as talk:
            talk.greet("logbook")
            talk.send(Do(ticket=1, act=act))
            talk.wait_until_done()
    except (FileNotFoundError, ConnectionRefusedError) as error:
        raise Refused(f"the line to the controller broke ({error})", where=str(path)) from error
