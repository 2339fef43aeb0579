"""What a screen may ask the book through the controller, and what it is told."""

from __future__ import annotations

from typing import Annotated

import msgspec

from firmware_py.facts.acts.book import RunId
from firmware_py.facts.events.life import ExposureNoted
from firmware_py.journal.book_target import BookTarget
from firmware_py.journal.box_advice import BoxAdvice
from firmware_py.journal.outcome import RunOutcome
from firmware_py.journal.run_list import LONGEST_SEARCH

MOST_LINES = 50


class BookQuestion(
    msgspec.Struct, frozen=True, kw_only=True, tag_field="question", forbid_unknown_fields=True
):
    """Something asked of the book."""


class FindRuns(BookQuestion, frozen=True, kw_only=True, tag="find-runs"):
    """Ask for runs with ``words`` (all without), newest first, those after the run ``after``."""

    words: Annotated[str, msgspec.Meta(max_length=LONGEST_SEARCH)] = ""
    after: RunId | None = None
    limit: Annotated[int, msgspec.Meta(ge=1, le=MOST_LINES)] = 30


class OpenPage(BookQuestion, frozen=True, kw_only=True, tag="open-page"):
    """Ask for the page of one run."""

    run: RunId


class AskAdvice(BookQuestion, frozen=True, kw_only=True, tag="ask-advice"):
    """Ask what the judged plates of a box say of its next one."""

    box: Annotated[str, msgspec.Meta(min_length=1, max_length=200)]
    developer: Annotated[str, msgspec.Meta(max_length=200)] = ""


class AskBookTarget(BookQuestion, frozen=True, kw_only=True, tag="ask-book-target"):
    """Ask how long the book would develop the plate of a run that is in its developer."""

    run: RunId


AnyQuestion = FindRuns | OpenPage | AskAdvice | AskBookTarget


class BookAnswer(msgspec.Struct, frozen=True, kw_only=True, tag_field="answer"):
    """Something told of the book."""


class RunLine(msgspec.Struct, frozen=True, kw_only=True):
    """A run in a list; times in the developer [s], verdict words of its first plate."""

    run_id: str
    plate: str
    box: str
    routine: str
    developer: str
    rehearsal: bool
    opened_utc: str
    state: str
    ended: str | None
    elapsed_s: float | None
    equivalent_s: float | None
    density: str | None
    contrast: str | None
    fog: str | None


class RunsFound(BookAnswer, frozen=True, kw_only=True, tag="runs-found"):
    """Runs, newest first; whether there are ``more`` after them."""

    runs: tuple[RunLine, ...]
    more: bool


class CurvePointView(msgspec.Struct, frozen=True, kw_only=True):
    """Bath [degC] and equivalent time [s], ``elapsed_s`` [s] into the developer; ``read``, or guessed."""

    elapsed_s: float
    bath_degC: float
    equivalent_s: float
    read: bool


class CurveMarkView(msgspec.Struct, frozen=True, kw_only=True):
    """A mark by its number among the marks of the run, ``elapsed_s`` [s] into the developer."""

    number: int
    elapsed_s: float


class CurveView(msgspec.Struct, frozen=True, kw_only=True):
    """A development: its points, thinned out, its marks, and what was wanted of it."""

    title: str
    points: tuple[CurvePointView, ...]
    marks: tuple[CurveMarkView, ...]
    reference_degC: float
    target_s: float


class ExposureLine(msgspec.Struct, frozen=True, kw_only=True):
    """What is noted of a plate's exposure, and how much more than daylight said that is [stops], if known."""

    plate: str
    side: str
    noted: ExposureNoted
    more_stops: float | None
    doubt_stops: float | None


class PageOpened(BookAnswer, frozen=True, kw_only=True, tag="page-opened"):
    """The page of a run, with a curve for each development of which a temperature is known."""

    run: RunOutcome
    curves: tuple[CurveView, ...]
    exposures: tuple[ExposureLine, ...] = ()


class Advised(BookAnswer, frozen=True, kw_only=True, tag="advised"):
    """What the judged plates of a box say of its next one."""

    told: BoxAdvice


class BookTargetTold(BookAnswer, frozen=True, kw_only=True, tag="book-target"):
    """How long the book would develop a run's plate, None where it knows no plate of its box."""

    run: str
    target: BookTarget | None


AnyAnswer = RunsFound | PageOpened | Advised | BookTargetTold
