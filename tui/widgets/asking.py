"""The one strip in which the screen asks something: words to type, a choice by number, or a yes.

It opens at the foot of the page, never over it: time and cues stay in sight while somebody writes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace

from textual.app import ComposeResult
from textual.binding import Binding
from textual.containers import Vertical
from textual.events import Key
from textual.message import Message
from textual.widgets import Input

from firmware_py.craft.refusal import Refused
from tui.widgets.line import Line
from tui.widgets.wrapping import wrap

MOST_CHOICES = 9
YES, NO = "y", "n"


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked and what follows the answer.

    ``choices`` make it a choice by number, or by ``choice_keys``, one for each; ``start`` a line to type,
    beginning so; neither, a yes. ``put_aside`` gets what was typed when the person leaves without an answer.
    ``back`` gets what is typed, and asks for the line before; ``list_instead`` asks for a choice instead;
    what is typed is put aside. ``then`` may raise Refused: it is asked again,
    with the reason as ``no``. What stands in the line at first is taken by Enter as it is, and goes with the
    first letter typed; but the typing of a ``draft`` goes on at its end.
    """

    words: str
    then: Callable[[str], None]
    choices: tuple[str, ...] = ()
    start: str | None = None
    put_aside: Callable[[str], None] = field(default=lambda _: None)
    choice_keys: tuple[str, ...] = ()
    back: Callable[[str], None] | None = None
    list_instead: Callable[[], None] | None = None
    draft: bool = False
    no: str = ""

    def again(self, answer: str, no: str) -> Question:
        """Return the same question once more, and why the ``answer`` was none."""
        return replace(self, start=None if self.start is None else answer, draft=False, no=no)

    @property
    def by_key(self) -> dict[str, str]:
        """Get the choices by the keys that stand for them."""
        keys = self.choice_keys or tuple(str(number) for number in range(1, MOST_CHOICES + 1))
        return dict(zip(keys, self.choices, strict=False))

    @property
    def keys(self) -> tuple[tuple[str, str], ...]:
        """Get the keys that hold while this is asked, with their words."""
        if self.start is not None:
            return self._typing_keys()
        if self.choice_keys:
            return (("a key", "as it says"), ("Escape", "leave it"))
        if self.choices:
            return ((f"1-{len(self.choices)}", "choose"), ("Escape", "leave it"))
        return (("Y", "yes"), ("N Escape", "no"))

    @property
    def rows(self) -> int:
        """Get how many lines it fills."""
        return 1 + len(self.choices) + (self.start is not None) + bool(self.no)

    def _typing_keys(self) -> tuple[tuple[str, str], ...]:
        before = (("↑", "the line before"),) if self.back is not None else ()
        kept = self.start and not self.draft
        enter = (
            (("Enter", "done" if self.no else "keep it"), ("a letter", "writes anew"), ("→", "change it"))
            if kept
            else (("Enter", "done"),)
        )
        instead = (("↓", "ready-made phrases"),) if self.list_instead is not None else ()
        return (*enter, *before, *instead, ("Escape", "leave it"))


# What the keys without a sign do in a line: the field's own, but for Enter, which is an answer.
IN_LINE = {
    key: binding.action
    for binding in Input.BINDINGS
    if isinstance(binding, Binding) and binding.action != "submit"
    for key in binding.key.split(",")
}


@dataclass(frozen=True, slots=True)
class Typed:
    """A line that was typed, and what it answers."""

    question: Question
    answer: str


class _Answer(Input):
    """A line to type in. What stands there at first goes with the first letter; backwards sign by sign."""

    def write(self, sign: str) -> None:
        """Put a sign where the line is being written."""
        if self.selection.is_empty:
            self.insert_text_at_cursor(sign)
        else:
            self.replace(sign, *self.selection)

    def action_delete_left(self) -> None:
        """Delete the last sign."""
        if not self.selection.is_empty:
            self.cursor_position = len(self.value)
        super().action_delete_left()


class Asking(Vertical, can_focus=True):
    """Shows one question at a time, or nothing; ``answering`` holds the line that is just being taken in."""

    class Changed(Message):
        """A question was opened or closed."""

        def __init__(self, *, open: bool) -> None:  # noqa: A002 - what the field is
            super().__init__()
            self.open = open

    def __init__(self, *, id: str | None = None) -> None:  # noqa: A002 - Textual's word
        super().__init__(id=id)
        self.question: Question | None = None
        self.answering: Typed | None = None
        self.display = False

    def compose(self) -> ComposeResult:
        """Lay out the words and the line to type in."""
        yield Line(id="asked")
        answer = _Answer(id="answer", compact=True, select_on_focus=False)
        answer.cursor_blink = False
        yield answer

    def ask(self, question: Question) -> None:
        """Ask; a question that stood open is put aside."""
        if self.question is not None:
            self.leave()
        self.question = question
        typed = question.start is not None
        self._show_words(question)
        answer = self.query_one(Input)
        answer.display = typed
        answer.value = question.start or ""
        answer.cursor_position = len(answer.value)
        self.display = True
        self.screen.set_focus(answer if typed else self)
        if typed and not question.draft:
            answer.select_all()
        self.post_message(self.Changed(open=True))

    def on_resize(self) -> None:
        """Lay the words out anew on a screen that has become wider or narrower."""
        if self.question is not None:
            self._show_words(self.question)

    def _show_words(self, question: Question) -> None:
        width = max(20, self.screen.size.width)
        asked_for = f"No: {question.no}\n{question.words}" if question.no else question.words
        words = [part for line in asked_for.split("\n") for part in wrap(line, width)]
        lines = [*words, *_choice_lines(question, width)]
        self.query_one("#asked", Line).fill(lines)

    def leave(self) -> None:
        """Close without an answer."""
        question, self.question = self.question, None
        if question is not None and question.start is not None:
            question.put_aside(self.query_one(Input).value)
        self._close()

    @property
    def takes_text(self) -> bool:
        """Get whether a line to type in is open."""
        return self.question is not None and self.question.start is not None

    async def type(self, key: Key) -> None:
        """Take a key of somebody who types: signs, what moves in the line, and what leaves it."""
        question, answer = self.question, self.query_one(_Answer)
        if question is None:
            return
        if key.is_printable and key.character is not None:
            answer.write(key.character)
        elif key.key == "enter":
            self._answered(answer.value)
        elif key.key == "escape":
            self.leave()
        elif key.key == "up" and question.back is not None:
            self._go_back(question.back)
        elif key.key == "down" and question.list_instead is not None:
            self.leave()
            question.list_instead()
        elif key.key in IN_LINE:
            await self.app.run_action(IN_LINE[key.key], answer)

    def take(self, key: str) -> bool:
        """Take a key for a choice or a yes; return whether it answered, or left, what is asked."""
        question = self.question
        if question is None:
            return False
        if key == "escape" or (not question.choices and key == NO):
            self.leave()
        elif not question.choices and key == YES:
            self._answered("yes")
        elif key in question.by_key:
            self._answered(question.by_key[key])
        else:
            return False
        return True

    def _answered(self, answer: str) -> None:
        question, self.question = self.question, None
        self._close()
        if question is None:
            return
        self.answering = Typed(question, answer) if question.start is not None else None
        try:
            question.then(answer)
        except Refused as refusal:
            self.ask(question.again(answer, Refused(refusal.what, allowed=refusal.allowed).line))
        finally:
            self.answering = None

    def _go_back(self, back: Callable[[str], None]) -> None:
        typed = self.query_one(Input).value
        self.question = None
        self._close()
        back(typed)

    def _close(self) -> None:
        self.display = False
        self.screen.set_focus(None)
        self.post_message(self.Changed(open=False))


def _choice_lines(question: Question, width: int) -> list[str]:
    """Return the choices with their keys: a line for each number, but short keys side by side."""
    named = [
        f"  {key.capitalize() if len(key) > 1 else key}  {words}" for key, words in question.by_key.items()
    ]
    if not question.choice_keys:
        return named
    columns = max(map(len, named), default=1) + 1
    in_row = max(1, width // columns)
    rows = [named[n : n + in_row] for n in range(0, len(named), in_row)]
    return ["".join(f"{words:<{columns}}" for words in row).rstrip() for row in rows]
