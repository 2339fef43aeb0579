"""What to think of a bath now: what is left of it, whether to trust a plate to it, and why not."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from firmware_py.craft.baths import BathState, State, bath_state
from firmware_py.craft.exhaustion import plates_left
from firmware_py.craft.fixing import FixerVerdict, fixer_verdict
from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_time
from firmware_py.journal.bath_record import BathRecord

DAY_S = 86400.0


@dataclass(frozen=True, slots=True)
class BathJudgement:
    """The verdict on a bath, and what it rests on; None where nobody knows.

    ``against`` says what speaks against another plate, or nothing. ``times_longer`` is for the next
    development; None where it would be more than twice the fresh time.
    """

    state: State
    left_cm2: float | None
    share_done: float | None
    age_s: float | None
    left_s: float | None
    fixer: FixerVerdict | None
    times_longer: float | None
    against: str
    advice: tuple[str, ...]

    @property
    def is_trusted(self) -> bool:
        """Get whether nothing speaks against another plate."""
        return not self.against


def judge(bath: BathRecord, now: datetime, plate_cm2: float | None = None) -> BathJudgement:
    """Return what to think of ``bath`` at ``now`` (UTC), for a next plate of ``plate_cm2`` [cm²].

    A wall clock that stands before the bath's day leaves only its age unknown.
    """
    made = datetime.fromisoformat(bath.made_utc)
    clock_is_wrong = made > now
    state = _state(bath, made, now, None if clock_is_wrong else bath.made.keeps_s)
    fixer = _fixer(bath)
    times_longer = _times_longer(bath)
    against = _against(state, fixer, times_longer)
    return BathJudgement(
        state="used up" if against and state.is_trusted else state.state,
        left_cm2=state.left_cm2,
        share_done=state.share_done,
        age_s=None if clock_is_wrong else state.age_s,
        left_s=state.left_s,
        fixer=fixer,
        times_longer=times_longer,
        against=against,
        advice=tuple(_advice(bath, state, fixer, times_longer, plate_cm2, clock_is_wrong=clock_is_wrong)),
    )


def read_day(text: str, now: datetime, *, where: str) -> str:
    """Return a day or moment as a person writes it (ISO 8601; UTC where no zone is said) as ISO text.

    Raises Refused for what is none, and for one after ``now``.
    """
    try:
        moment = datetime.fromisoformat(text.strip())
    except ValueError:
        raise Refused(
            f"{text[:40]!r} is no date", where=where, allowed="2026-03-14, or 2026-03-14T19:30"
        ) from None
    moment = moment.replace(tzinfo=UTC) if moment.tzinfo is None else moment.astimezone(UTC)
    if moment > now:
        raise Refused(
            f"{moment:%Y-%m-%d %H:%M} UTC is still to come",
            where=where,
            allowed=f"not later than {now:%Y-%m-%d %H:%M} UTC, if the clock is right",
        )
    return moment.isoformat(timespec="seconds")


def _state(bath: BathRecord, made: datetime, now: datetime, keeps_s: float | None) -> BathState:
    return bath_state(
        volume_ml=bath.made.volume_ml,
        done_cm2=bath.done_cm2,
        cm2_per_l=bath.made.cm2_per_l,
        made=min(made, now),
        now=now,
        keeps_s=keeps_s,
    )


def _fixer(bath: BathRecord) -> FixerVerdict | None:
    if bath.clearing_s is None or bath.fresh_clearing_s is None:
        return None
    return fixer_verdict(bath.clearing_s, bath.fresh_clearing_s)


def _times_longer(bath: BathRecord) -> float | None:
    try:
        return bath.times_longer()
    except Refused:
        return None


def _against(state: BathState, fixer: FixerVerdict | None, times_longer: float | None) -> str:
    if state.state == "too old":
        return f"too old by {_span(-(state.left_s or 0.0))}"
    if fixer is not None and fixer.state == "spent":
        return f"spent: it clears in {fixer.times_fresh:.1f} times its fresh time"
    if state.state == "used up":
        return f"used up: it has done {100 * (state.share_done or 0):.0f} % of what it can"
    if times_longer is None:
        return "used up: a development would take more than twice its fresh time"
    return ""


def _advice(
    bath: BathRecord,
    state: BathState,
    fixer: FixerVerdict | None,
    times_longer: float | None,
    plate_cm2: float | None,
    *,
    clock_is_wrong: bool,
) -> list[str]:
    words = []
    if clock_is_wrong:
        words.append(f"Made on {bath.made_utc[:10]}, which the clock says is to come: its age is not known")
    if times_longer is not None and times_longer > 1.0:
        words.append(f"The next development takes {100 * (times_longer - 1):.0f} % longer")
    if fixer is not None and fixer.state == "ageing":
        words.append(f"Clears in {fixer.times_fresh:.1f} times its fresh time: have a new one ready")
    if state.left_cm2 is not None and plate_cm2 is not None:
        words.append(_plates(plates_left(state.left_cm2, plate_cm2)))
    if state.left_s is not None and 0 < state.left_s < DAY_S:
        words.append(f"Keeps for {_span(state.left_s)} yet")
    if state.state == "nearly done":
        words.append("In its last tenth: mix the next")
    return words


def _plates(left: int) -> str:
    return {0: "Not enough left for a whole plate", 1: "Good for one more plate"}.get(
        left, f"Good for {left} more plates"
    )


def _span(time_s: float) -> str:
    if time_s >= 2 * DAY_S:
        return f"{time_s / DAY_S:.0f} days"
    return say_time(60.0 * round(time_s / 60.0)) if time_s >= 60 else say_time(time_s)
