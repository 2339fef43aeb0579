"""The lines that cross the socket: one JSON object each, typed, checked at both ends."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

import msgspec

from firmware_py.craft.refusal import DeviceTrouble, Locked, NotNow, Refused, WrongInput
from firmware_py.facts.acts.run import AnyAct
from firmware_py.facts.views.bench import BenchView
from firmware_py.service.book_questions import AnyAnswer, AnyQuestion

PROTOCOL = 2
LINE_LIMIT = 64 * 1024
# A client says that it lives every BEAT_S [s]; silent for SILENT_S [s] it counts as frozen: so what it lit
# is out within 1.1 s.
BEAT_S = 0.2
SILENT_S = 0.75
# Who watches is shown the bench at least every SHOW_S [s], changed or not; a controller that has shown
# nothing for UNSHOWN_S [s] counts as frozen.
SHOW_S = 0.5
UNSHOWN_S = 1.5


class Message(msgspec.Struct, frozen=True, kw_only=True, tag_field="message", forbid_unknown_fields=True):
    """One line."""


# --- from the client ---


class Hello(Message, frozen=True, kw_only=True, tag="hello"):
    """Introduce oneself; must be the first line."""

    protocol: int
    client: str = ""


class Do(Message, frozen=True, kw_only=True, tag="do"):
    """Ask for an act; the answer carries the same ``ticket``."""

    ticket: int
    act: AnyAct


class Watch(Message, frozen=True, kw_only=True, tag="watch"):
    """Ask to be sent the bench's view whenever it changes, and every `SHOW_S` [s]."""


class Look(Message, frozen=True, kw_only=True, tag="look"):
    """Ask for the bench's view once."""


class Ask(Message, frozen=True, kw_only=True, tag="ask"):
    """Ask the book something; the answer carries the same ``ticket``."""

    ticket: int
    question: AnyQuestion


class Beat(Message, frozen=True, kw_only=True, tag="beat"):
    """Say that one lives. Who has once said so, and lights the lamp, must go on saying so."""


class End(Message, frozen=True, kw_only=True, tag="end"):
    """Ask the controller to end; while a plate is open only ``anyway``. The answer carries the ``ticket``."""

    ticket: int
    anyway: bool = False


# --- from the controller ---


class Welcome(Message, frozen=True, kw_only=True, tag="welcome"):
    """The answer to `Hello`; ``managed`` where a service manager runs the controller."""

    protocol: int
    program: str
    rehearsal: bool
    managed: bool = False


class Done(Message, frozen=True, kw_only=True, tag="done"):
    """The act was done and is in the journal."""

    ticket: int


RefusalKind = Literal["refused", "wrong input", "not now", "locked", "device trouble"]
_KINDS: Mapping[RefusalKind, type[Refused]] = MappingProxyType(
    {
        "refused": Refused,
        "wrong input": WrongInput,
        "not now": NotNow,
        "locked": Locked,
        "device trouble": DeviceTrouble,
    }
)


class Refusal(Message, frozen=True, kw_only=True, tag="refusal"):
    """Something was not accepted: of which kind, what, where, what is allowed and what to do next."""

    what: str
    where: str = ""
    allowed: str = ""
    next: str = ""
    kind: RefusalKind = "refused"
    ticket: int | None = None

    @classmethod
    def of(cls, refused: Refused, ticket: int | None = None) -> Refusal:
        """Return the message that carries a refusal."""
        kinds = (kind for kind, type_ in reversed(tuple(_KINDS.items())) if isinstance(refused, type_))
        return cls(
            what=refused.what,
            where=refused.where,
            allowed=refused.allowed,
            next=refused.next,
            kind=next(kinds),
            ticket=ticket,
        )

    @property
    def refused(self) -> Refused:
        """Get the refusal itself, to be raised at this end."""
        return _KINDS[self.kind](self.what, where=self.where, allowed=self.allowed, next=self.next)


class Seen(Message, frozen=True, kw_only=True, tag="seen"):
    """The bench as it is."""

    bench: BenchView


class Told(Message, frozen=True, kw_only=True, tag="told"):
    """What the book says."""

    ticket: int
    answer: AnyAnswer


ToController = Hello | Do | Ask | Watch | Look | Beat | End
FromController = Welcome | Done | Refusal | Seen | Told
