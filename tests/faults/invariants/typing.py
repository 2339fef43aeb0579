"""3. What is typed as a note is in the book as typed, and nothing else comes of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from tests.faults.eyes.book import Line
from tests.faults.invariants.case import Case, Invariant, Verdict
from tests.faults.kinds.typing import TYPED

# What a hand does at the bench, and the acts it is asked for by: no more than was asked for is in the book.
# A step that ends by the clock is nobody's act.
BY_HAND = frozenset({"pulled", "moved on", "cut short"})
ASKED_BY = {
    "a plate moved": ("proceed", "pull", "cut-short"),
    "a mark": ("mark",),
    "a mark taken back": (),
    "a pull taken back": ("take-back-pull",),
    "a change of water": (),
    "a run opened": ("open-run",),
    "a run given up": (),
    "the safelight switched": (),
    "a print opened": ("open-print",),
    "an exposure": ("expose",),
    "a note": ("note", "note-print"),
}
DEEDS = {
    "MarkMade": "a mark",
    "MarkTakenBack": "a mark taken back",
    "PullTakenBack": "a pull taken back",
    "WaterChanged": "a change of water",
    "RunOpened": "a run opened",
    "PrintOpened": "a print opened",
    "ExposureAnnounced": "an exposure",
    "NoteWritten": "a note",
}
# Who else acts at the bench without the person's asking: other keys, other callers, a foot.
OTHERS = ("keys at random", "messages with paths")
PERSON = "a person asked"
NOT_YET = "is done, but not yet in the book"


def does_nothing_but_write_it(case: Case) -> Iterator[Verdict]:
    """Of each deed of a hand the book holds no more than were asked for: no sign of the sentence is a key."""
    typed = case.was(TYPED)
    if not typed or case.was(*OTHERS) or _has_foot(case):
        return
    did = Counter(deed for line in case.book.lines if (deed := _deed(line)))
    asked = Counter(
        a.act["act"] for a in case.evidence.asked if a.done or not a.answered_s or NOT_YET in a.words
    )
    notes = sum(bool(struck.notes["stood"]) for struck in typed)
    for deed, acts in ASKED_BY.items():
        may = sum(asked[act] for act in acts) + (notes if deed == "a note" else 0)
        words = f"{deed} {did[deed]} times, asked for {may} times, while this was typed: {_texts(case)}"
        yield Verdict(did[deed] <= may, words)


def is_in_the_book_as_typed(case: Case) -> Iterator[Verdict]:
    """A sentence that was in the line of a note when Enter was pressed is in the book once, as typed."""
    typed = case.was(TYPED)
    if len(typed) < len(case.evidence.struck):
        return  # another fault may have taken the book or the screen
    held = Counter(line.body["text"] for line in case.book.of("NoteWritten"))
    for struck in typed:
        text, stood = struck.notes["text"], struck.notes["stood"]
        if stood is not None and _had_a_run(case, struck.at_s):
            yield Verdict(stood, f"the line of a note did not take what was typed: {text!r}")
        if stood:
            yield Verdict(held[text] == 1, f"typed once, in the book {held[text]} times: {text!r}")


def _deed(line: Line) -> str:
    body = line.body
    if line.kind == "StepEnded":
        return "a plate moved" if body["why"] in BY_HAND else ""
    if line.kind == "StepStarted":
        return "a plate moved" if body["step"] == 0 else ""
    if line.kind == "RunEnded":
        return "a run given up" if body["ended"] == "abandoned" else ""
    if line.kind == "RelaySwitched":
        return "the safelight switched" if body["relay"] == "safelight" and body["why"] == PERSON else ""
    return DEEDS.get(line.kind, "")


def _had_a_run(case: Case, at_s: float) -> bool:
    """Return whether a run was on the page when somebody began to type."""
    before = [seen for seen in case.evidence.seen if seen.at_s <= at_s]
    return bool(before) and bool(before[-1].bench["lanes"])


def _has_foot(case: Case) -> bool:
    return case.played.plan.uses_foot


def _texts(case: Case) -> list[str]:
    return [struck.notes["text"] for struck in case.was(TYPED)]


INVARIANTS = (
    Invariant(3, "a typed sentence does nothing", does_nothing_but_write_it),
    Invariant(3, "a note is in the book as typed", is_in_the_book_as_typed),
)
