"""1. The printing lamp: lit with a reason, within its ceiling, by no open plate, for a living owner."""

from __future__ import annotations

from collections.abc import Iterator

from tests.faults.evidence import Span, Struck
from tests.faults.eyes.book import Line
from tests.faults.invariants.case import Case, Invariant, Verdict
from tests.faults.kinds import pairs

DARK_WITHIN_S = 1.1
# Two of the three that can put it out, lost together.
PAIR_DARK_WITHIN_S = 1.5
# Two clocks' readings of one moment, in processes that may be parted by a stall.
SAME_S = 0.05
# From the word that lays a plate open to the lamp's going out: a turn of the bench, a line, the pin.
SEEN_WITHIN_S = 0.25

OWNERS = {
    "controller": (
        "controller killed",
        "controller frozen",
        "controller frozen for long",
        "controller told to end",
    ),
    "switchboard": ("switchboard killed", "switchboard frozen", "switchboard told to end"),
    "client": ("client killed", "client frozen", "client told to end"),
}


def has_a_reason(case: Case) -> Iterator[Verdict]:
    """Each time it was lit, the book had announced it before; no announcement counts twice."""
    announced = sorted((case.at_s(line), line) for line in case.book.of("ExposureAnnounced"))
    free = list(announced)
    for span in case.lamp:
        before = [(at_s, line) for at_s, line in free if at_s <= span.on_s + 0.001]
        if before:
            free = [each for each in free if each[0] > before[-1][0]]
        yield Verdict(bool(before), f"the lamp was lit at {span.on_s:.3f} s and no event had announced it")


def obeys_its_ceiling(case: Case) -> Iterator[Verdict]:
    """No time it was lit is longer than the ceiling of what announced it, but for what was withheld."""
    for span in case.lamp:
        reason = _reason(case, span)
        if reason is None:
            continue
        ceiling_s = reason.body["ceiling_s"]
        lasted_s = min(span.off_s, case.evidence.over_s) - span.on_s
        allowed_s = ceiling_s + SAME_S + case.stall(span.on_s, span.off_s)
        yield Verdict(lasted_s <= allowed_s, f"lit for {lasted_s:.3f} s, its ceiling was {ceiling_s:.3f} s")


def never_with_an_open_plate(case: Case) -> Iterator[Verdict]:
    """No light falls into a time when a plate was open, but for the moment of its being laid open."""
    for lines in case.book.beginning_with("RunOpened"):
        open_s, fixed_s = _open_from_to(case, lines)
        for span in case.lamp:
            both_from_s, both_to_s = max(span.on_s, open_s), min(span.off_s, fixed_s)
            if both_to_s <= both_from_s:
                yield Verdict(True)
                continue
            allowed_s = SEEN_WITHIN_S + case.stall(both_from_s, both_to_s)
            lay_open_first = open_s < span.on_s
            held = not lay_open_first and both_to_s - both_from_s <= allowed_s
            yield Verdict(
                held, f"lit for {both_to_s - both_from_s:.3f} s beside the open plate {lines[0].subject}"
            )


def goes_out_with_its_owner(case: Case) -> Iterator[Verdict]:
    """Whoever held it died or froze: it, and after the controller every relay, is off within 1.1 s."""
    for owner, faults in OWNERS.items():
        for struck in case.was(*faults):
            if "there was none" in struck.notes or not _stayed_dead(struck):
                continue
            for name, relay in case.relays.items():
                if owner == "client" and (name != "printing-lamp" or not _client_lit_it(case, struck)):
                    continue
                yield from _off_within(case, name, relay, struck, _limit_s(case, struck))
    for cut_s in case.cuts_s:
        yield Verdict(all(not span.lights(cut_s + 0.01) for span in case.lamp), "lit after a power cut")


def goes_out_when_two_are_lost(case: Case) -> Iterator[Verdict]:
    """Two of controller, switchboard and guardian died or froze at once: every relay is off within 1.5 s."""
    for struck in case.was(*(fault.name for fault in pairs.FAULTS)):
        if "there was none" not in struck.notes:
            for name, relay in case.relays.items():
                yield from _off_within(case, name, relay, struck, PAIR_DARK_WITHIN_S)


def _limit_s(case: Case, struck: Struck) -> float:
    """One lost alone, or together with another that a second fault of the session struck."""
    others = [each for each in case.evidence.struck if each is not struck]
    overlaps = any(
        each.at_s < struck.over_s + PAIR_DARK_WITHIN_S and struck.at_s < each.over_s + PAIR_DARK_WITHIN_S
        for each in others
        if each.fault.startswith(("controller", "switchboard", "guardian"))
    )
    return PAIR_DARK_WITHIN_S if overlaps else DARK_WITHIN_S


def _off_within(
    case: Case, name: str, relay: list[Span], struck: Struck, limit_s: float
) -> Iterator[Verdict]:
    for span in relay:
        if not span.lights(struck.at_s):
            continue
        off_s = min(span.off_s, case.evidence.over_s)
        allowed_s = limit_s + case.stall(struck.at_s, off_s)
        words = (
            f"{name} was on for {off_s - struck.at_s:.3f} s after: {struck.fault} (allowed {allowed_s:.3f} s)"
        )
        yield Verdict(off_s - struck.at_s <= allowed_s, words)


def _stayed_dead(struck: Struck) -> bool:
    """One that was frozen for less than the limit is no dead owner."""
    return "frozen" not in struck.fault or struck.over_s - struck.at_s > DARK_WITHIN_S


def _client_lit_it(case: Case, struck: Struck) -> bool:
    """Whether the client, and not a foot, asked for the light that was on then."""
    asked = [a for a in case.evidence.asked if a.act["act"] == "expose" and a.done and a.at_s < struck.at_s]
    lit = next((span for span in case.lamp if span.lights(struck.at_s)), None)
    return (
        lit is not None
        and any(abs(lit.on_s - a.at_s) < 0.3 for a in asked)
        and not case.played.plan.uses_foot
    )


def _reason(case: Case, span: Span) -> Line | None:
    before = [x for x in case.book.of("ExposureAnnounced") if case.at_s(x) <= span.on_s + 0.001]
    return before[-1] if before else None


def _open_from_to(case: Case, lines: list[Line]) -> tuple[float, float]:
    """From when to when a run's plate was open: from its laying ready to the end of its last fixing."""
    steps = lines[0].body["routine"]["steps"]
    last_fix = max(number for number, step in enumerate(steps) if step["kind"] == "fix")
    for line in lines:
        if line.kind == "RunEnded" or (line.kind == "StepEnded" and line.body["step"] >= last_fix):
            return case.at_s(lines[0]), case.at_s(line)
    return case.at_s(lines[0]), float("inf")


INVARIANTS = (
    Invariant(1, "the lamp has a journaled reason", has_a_reason),
    Invariant(1, "the lamp obeys its ceiling", obeys_its_ceiling),
    Invariant(1, "no light beside an open plate", never_with_an_open_plate),
    Invariant(1, "off within 1.1 s of its owner's death", goes_out_with_its_owner),
    Invariant(1, "off within 1.5 s of two deaths", goes_out_when_two_are_lost),
)
