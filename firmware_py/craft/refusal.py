"""The one way this project says no: what, where, and what is allowed, in one line."""

from __future__ import annotations


class Refused(ValueError):  # noqa: N818 - reads as what happened, not as a kind of error
    """A value, a file or an act that was not accepted; nothing was changed by it.

    ``str()`` gives one line: ``where: what; allowed: …``. Source: own.
    """

    def __init__(self, what: str, *, where: str = "", allowed: str = "") -> None:
        self.what = _plain(" ".join(what.split()))
        self.where = _plain(where)
        self.allowed = allowed
        super().__init__(self.line)

    @property
    def line(self) -> str:
        """Get the refusal as one line. Source: own."""
        place = f"{self.where}: " if self.where else ""
        rule = f"; allowed: {self.allowed}" if self.allowed else ""
        return f"{place}{self.what}{rule}"

    def at(self, where: str) -> Refused:
        """Return the same refusal with the outer place it was met in before its own. Source: own."""
        inner = f"{where}: {self.where}" if self.where else where
        return type(self)(self.what, where=inner, allowed=self.allowed)


def shown(text: str) -> str:
    """Return what a person wrote as one short quoted piece without control characters. Source: own."""
    plain = _plain(text.strip())
    return f'"{plain}"' if len(plain) <= 40 else f'"{plain[:37]}..."'


def _plain(text: str) -> str:
    """Return ``text`` with a question mark for whatever could move a cursor or change a colour."""
    return "".join(sign if sign.isprintable() else "?" for sign in text)
