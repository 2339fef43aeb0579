"""The one way this project says no: what, where, and what is allowed, in one line."""

from __future__ import annotations

# Of each part of a refusal [signs]: the longest that we write ourselves names all kinds of event.
LONGEST = 2000


class Refused(ValueError):  # noqa: N818 - reads as what happened, not as a kind of error
    """A value, a file or an act that was not accepted; nothing was changed by it.

    ``str()`` gives one line: ``where: what; allowed: …; next: …``. The parts are for a program to use: none
    reads the line. Source: own.
    """

    def __init__(self, what: str, *, where: str = "", allowed: str = "", next: str = "") -> None:  # noqa: A002
        self.what = plain(_cut(" ".join(what.split())))
        self.where = plain(_cut(where))
        self.allowed = _cut(allowed)
        self.next = next
        super().__init__(self.line)

    @property
    def line(self) -> str:
        """Get the refusal as one line. Source: own."""
        place = f"{self.where}: " if self.where else ""
        rule = f"; allowed: {self.allowed}" if self.allowed else ""
        step = f"; next: {self.next}" if self.next else ""
        return f"{place}{self.what}{rule}{step}"

    def at(self, where: str) -> Refused:
        """Return the same refusal with the outer place it was met in before its own. Source: own."""
        inner = f"{where}: {self.where}" if self.where else where
        return type(self)(self.what, where=inner, allowed=self.allowed, next=self.next)


class WrongInput(Refused):
    """A value, a word, a file or a line that cannot be accepted as it is. Source: own."""


class NotNow(Refused):
    """An act that the present state of the bench does not allow. Source: own."""


class Locked(NotNow):
    """An act that an interlock forbids. Source: own."""


class DeviceTrouble(Refused):
    """A device, a disk or another process that did not do what was asked of it. Source: own."""


def shown(text: str) -> str:
    """Return what a person wrote as one short quoted piece without control characters. Source: own."""
    said = plain(text.strip())
    return f'"{said}"' if len(said) <= 40 else f'"{said[:37]}..."'


def plain(text: str, *, keep: str = "") -> str:
    """Return ``text`` with a question mark for whatever could move a cursor, change a colour or turn writing.

    The signs in ``keep`` stay. Source: own.
    """
    return "".join(sign if sign.isprintable() or sign in keep else "?" for sign in text)


def _cut(text: str) -> str:
    """Return a text that may quote a whole file, cut in its middle to what a person reads."""
    return text if len(text) <= LONGEST else f"{text[: LONGEST // 2]} ... {text[-LONGEST // 2 :]}"
