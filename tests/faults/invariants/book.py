"""3. The book: nothing acknowledged is lost or there twice; what is made from it agrees with it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from tests.faults.evidence import Struck
from tests.faults.eyes.book import Line, chain_faults, developed
from tests.faults.invariants.case import Case, Invariant, Verdict
from tests.faults.kinds.callers import PATHS
from tests.faults.kinds.typing import TYPED

AGREES = 0.001
# From the end of a step to its bath's entry: a turn of the bench.
COUNTED_WITHIN_S = 0.5
NOT_YET = "is done, but not yet in the book"
# What is written by these acts, where a person's own words in it tell it from every other.
WORDED = {
    "note": ("NoteWritten", "text"),
    "note-print": ("NoteWritten", "text"),
    "open-run": ("RunOpened", "plate"),
}
WORDED |= {"open-print": ("PrintOpened", "negative")}


def keeps_what_it_acknowledged(case: Case) -> Iterator[Verdict]:
    """Each act that was answered with "done" is in the book, as often as it was; the others at most once."""
    kept = Counter(
        (line.kind, line.body[field]) for kind, field in set(WORDED.values()) for line in case.book.of(kind)
    )
    done: Counter[tuple[str, str]] = Counter()
    asked: Counter[tuple[str, str]] = Counter()
    for each in case.evidence.asked:
        if each.act["act"] not in WORDED:
            continue
        kind, field = WORDED[each.act["act"]]
        said = (kind, each.act[field])
        asked[said] += each.done or each.answered_s is None or NOT_YET in each.words
        done[said] += each.done
    typed = case.evidence.of("keys at random", TYPED)
    saved = _kept_aside(case)
    if any(_lost_with_its_controller(case, struck) for struck in case.was("journal deleted")):
        return
    for said, times in done.items():
        held = kept[said] >= times or (bool(saved) and said[1].encode() in saved)
        yield Verdict(held, f"acknowledged {times} times, in the book {kept[said]} times: {said}")
    for said, times in kept.items():
        if said[1] in PATHS or (typed and said not in asked):
            continue  # asked for by a fault, which names paths or types what comes, not by the person
        yield Verdict(
            times <= asked[said], f"asked for {asked[said]} times, in the book {times} times: {said}"
        )


def acknowledges_nothing_without_its_file(case: Case) -> Iterator[Verdict]:
    """A second after the journal was deleted, no act is answered with "done" until the next start."""
    for struck in case.was("journal deleted"):
        if _lost_with_its_controller(case, struck):
            continue
        from_s = struck.at_s + 1.0
        from_s += case.stall(struck.at_s, from_s)
        to_s = _healed_s(struck)
        late = [a for a in case.evidence.asked if a.done and from_s <= (a.answered_s or 0.0) <= to_s]
        words = [a.act["act"] for a in late if a.act["act"] in WORDED]
        yield Verdict(not words, f"acknowledged without a journal: {words}")


def _lost_with_its_controller(case: Case, struck: Struck) -> bool:
    """Whether the controller ended before it could save what it alone still had."""
    ends_s = [ended.at_s for ended in case.evidence.ended] + case.cuts_s
    return any(struck.at_s <= end_s <= _healed_s(struck) for end_s in ends_s)


def _healed_s(struck: Struck) -> float:
    """When the controller was told to end, so that the next one goes on with what was saved [boot s]."""
    told_s: float = struck.notes.get("healed at s", struck.over_s)
    return told_s


def follows_event_by_event(case: Case) -> Iterator[Verdict]:
    """Pages are whole; each subject's events are numbered and chained without a gap, rows too."""
    yield Verdict(case.book.pages == "ok", f"the pages: {case.book.pages}")
    yield Verdict(
        [x.seq for x in case.book.lines] == list(range(1, len(case.book.lines) + 1)), "a gap in the rows"
    )
    for lines in case.book.subjects.values():
        wrong = next(chain_faults(lines), "")
        yield Verdict(not wrong, wrong)


def is_one_history(case: Case) -> Iterator[Verdict]:
    """Time within a subject never goes back on one start of the machine."""
    for lines in case.book.subjects.values():
        back = [b for a, b in pairwise(lines) if a.boot_id == b.boot_id and b.boot_s < a.boot_s]
        yield Verdict(not back, f"time goes back at {back[:1]}")


def agrees_with_its_tables(case: Case) -> Iterator[Verdict]:
    """Each run, print and bath has its row, and it says what its events say."""
    for table, first in (("run", "RunOpened"), ("print", "PrintOpened"), ("bath", "BathMade")):
        subjects = {lines[0].subject: lines for lines in case.book.beginning_with(first)}
        rows = case.book.rows.get(table, {})
        yield Verdict(
            rows.keys() == subjects.keys(), f"the table {table} has other rows than the book has beginnings"
        )
        for subject, lines in subjects.items():
            if subject in rows and table == "run":
                yield from _run_agrees(lines, rows[subject])


def has_the_equivalent_times(case: Case) -> Iterator[Verdict]:
    """The equivalent time of each run that is over is that of its readings, integrated anew (0.1 %)."""
    for lines in case.book.beginning_with("RunOpened"):
        row = case.book.rows.get("run", {}).get(lines[0].subject)
        own = developed(lines)
        if row is None or not own or own[-1].ended is None or row["equivalent_s"] is None:
            continue
        off = abs(row["equivalent_s"] - own[-1].equivalent_s)
        words = f"equivalent time {row['equivalent_s']:.4f} s, by its readings {own[-1].equivalent_s:.4f} s"
        yield Verdict(off <= AGREES * max(own[-1].equivalent_s, 0.1), words)


def _run_agrees(lines: list[Line], row: dict[str, object]) -> Iterator[Verdict]:
    counts = Counter(line.kind for line in lines)
    said = {
        "plate": lines[0].body["plate"],
        "marks": counts["MarkMade"] - counts["MarkTakenBack"],
        "notes": counts["NoteWritten"],
        "state": "ended" if counts["RunEnded"] else row["state"],
    }
    for name, value in said.items():
        yield Verdict(
            row[name] == value, f"run {lines[0].subject}: {name} is {row[name]!r}, its events say {value!r}"
        )


def _kept_aside(case: Case) -> bytes:
    """The damaged files that were set aside: what was in them is not lost, though the book may lack it."""
    if not case.was("damaged page", "damaged log"):
        return b""
    state = case.played.folder.state
    return b"".join(path.read_bytes() for path in sorted(state.iterdir()) if ".damaged-" in path.name)


def counts_each_plate_on_one_bottle(case: Case) -> Iterator[Verdict]:
    """A fixing step that is over counts on one bottle of the fixer, if one stood on the bench before it."""
    made_s = [case.at_s(line) for line in case.book.of("BathMade")]
    used = Counter((line.body["run_id"], line.body["step"]) for line in case.book.of("BathUsed"))
    for lines in case.book.beginning_with("RunOpened"):
        if any(line.kind == "RunResumed" for line in lines):
            continue  # a bench that died in between may have been killed before it counted
        for began, ended in _fixings(lines):
            if not any(at_s < case.at_s(began) for at_s in made_s):
                continue
            times = used[began.subject, began.body["step"]]
            yield Verdict(times <= 1, f"counted on {times} bottles: {began.subject}")
            if ended is not None and _went_on_after(case, ended):
                yield Verdict(times == 1, f"counted on {times} bottles: {began.subject}")


def _fixings(lines: list[Line]) -> Iterator[tuple[Line, Line | None]]:
    """Give the beginning of each fixing step of a run, and its end where it has one."""
    kinds = [step["kind"] for step in lines[0].body["routine"]["steps"]]
    ends = {line.body["step"]: line for line in lines if line.kind == "StepEnded"}
    for line in lines:
        if line.kind == "StepStarted" and kinds[line.body["step"]] == "fix":
            yield line, ends.get(line.body["step"])


def _went_on_after(case: Case, ended: Line) -> bool:
    """Return whether the book tells of the same start of the machine so much later that all was written."""
    after_s = ended.boot_s + COUNTED_WITHIN_S
    return any(
        x.seq > ended.seq and x.boot_id == ended.boot_id and x.boot_s > after_s for x in case.book.lines
    )


INVARIANTS = (
    Invariant(3, "nothing acknowledged is lost, or there twice", keeps_what_it_acknowledged),
    Invariant(3, "nothing is acknowledged without its file", acknowledges_nothing_without_its_file),
    Invariant(3, "events follow, chained and whole", follows_event_by_event),
    Invariant(3, "time never goes back in the book", is_one_history),
    Invariant(3, "the tables say what the events say", agrees_with_its_tables),
    Invariant(3, "equivalent times, integrated anew", has_the_equivalent_times),
    Invariant(3, "a plate counts on exactly one bottle", counts_each_plate_on_one_bottle),
)
