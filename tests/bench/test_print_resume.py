"""A print that a dead controller left open: measured where the switchboard left word, else estimated."""

from __future__ import annotations

from pathlib import Path

import pytest

from firmware_py.bench.lamp.print_resume import Traces
from firmware_py.bench.show import show
from firmware_py.facts.acts import print as pa
from firmware_py.journal.print_record import PrintRecord
from firmware_py.switchboard.last_words import leave_last_words, read_last_words
from firmware_py.switchboard.reports import ExposureEnded
from tests.bench.lamp_at_hand import LAG_S, LampAtHand


def interrupted(after_s: float = 3.0) -> LampAtHand:
    at = LampAtHand()
    at.open_print()
    at.do(pa.SetBase(base_s=8.0))
    at.press()
    at.pass_s(after_s)
    return at


def taken_up(
    before: LampAtHand, traces: Traces, *, same_boot: bool = True, later_s: float = 60.0
) -> LampAtHand:
    again = LampAtHand()
    if same_boot:
        again.clock.boot_id = before.clock.boot_id
        again.clock.jump_to(before.clock.now_s() + later_s)
    again.bench.lamp_side.resume([before.replayed()], traces)
    again.carry_out()
    again.entries = [*before.entries, *again.entries]
    return again


def test_the_switchboards_last_words_make_a_measured_half_exposure():
    """It survived the controller by a moment and measured its own end."""
    before = interrupted()
    on_s = before.clock.now_s() - 3.0
    asked = f"{before.record.print_id}/{before.record.exposure.exposure}"  # type: ignore[union-attr]
    words = {asked: ExposureEnded(asked, "printing-lamp", on_s, on_s + 3.25, "made safe")}
    again = taken_up(before, Traces(before.clock.boot_id, on_s, words))
    (half,) = again.outcome.sheets[0].exposures
    assert half.ended == "bench stopped"
    assert not half.estimated
    assert half.measured_s == pytest.approx(3.25)
    assert again.replayed() == again.record
    assert "got 3.25 s of light (measured)" in show(again.bench).print.interrupted  # type: ignore[union-attr]


def test_without_them_the_end_is_estimated_between_the_books_last_moment_and_the_planned_end():
    """And marked so, with its doubt; the rest is offered, and given with the lag once more."""
    before = interrupted()
    again = taken_up(before, Traces(before.clock.boot_id, before.clock.now_s() - 1.0))
    (half,) = again.outcome.sheets[0].exposures
    assert half.estimated
    assert half.measured_s == pytest.approx((2.0 + 8.0 + LAG_S) / 2)
    assert half.doubt_s == pytest.approx((8.0 + LAG_S - 2.0) / 2)
    again.do(pa.ServeFoot(to="lamp"))
    again.press()
    again.until_dark()
    assert again.outcome.effective_s == pytest.approx(8.0)


def test_a_restart_after_a_moment_bounds_the_estimate_by_now():
    """The lamp cannot have been on in the future."""
    again = taken_up(interrupted(), Traces(), later_s=0.5)
    (half,) = again.outcome.sheets[0].exposures
    assert half.measured_s + half.doubt_s == pytest.approx(3.5, abs=0.01)


def test_after_a_power_cut_the_whole_exposure_is_in_doubt():
    """Another machine start: its clock says nothing about then."""
    again = taken_up(interrupted(), Traces("another", 5000.0), same_boot=False)
    (half,) = again.outcome.sheets[0].exposures
    assert half.measured_s == pytest.approx(half.doubt_s)
    assert half.estimated


def test_an_exposure_that_ended_unheard_is_whole():
    """Its time was up while the controller was dead."""
    before = interrupted()
    on_s = before.clock.now_s() - 3.0
    asked = f"{before.record.print_id}/{before.record.exposure.exposure}"  # type: ignore[union-attr]
    words = {asked: ExposureEnded(asked, "printing-lamp", on_s, on_s + 8.05, "time")}
    again = taken_up(before, Traces(before.clock.boot_id, on_s, words))
    assert again.record.sheets[0].ended == "finished"


def test_a_frame_uncovered_under_a_lamp_kept_lit_counts_as_covered_when_the_lamp_went_out():
    """Both are in the book."""
    at = LampAtHand(longest_on_s=3600.0)
    at.open_print()
    at.do(pa.ChooseLampMode(mode="kept lit"))
    at.do(pa.SetBase(base_s=60.0))
    at.press()
    at.pass_s(10.0)
    at.press()
    at.pass_s(5.0)
    again = taken_up(at, Traces(at.clock.boot_id, at.clock.now_s()))
    assert again.record.state == "dark"
    assert again.record.sheets[0].exposures[0].why == "lamp out"
    assert isinstance(again.replayed(), PrintRecord)


def test_only_the_newest_of_several_open_prints_is_taken_up():
    """The others are over."""
    one, two = interrupted(), interrupted()
    again = LampAtHand()
    again.bench.lamp_side.resume([one.replayed(), two.replayed()], Traces())
    assert again.record.print_id == two.record.print_id


def test_last_words_that_are_torn_or_foreign_are_passed_over(tmp_path: Path):
    """The estimate stands in for them."""
    path = tmp_path / "words"
    good = ExposureEnded("p/3", "printing-lamp", 1.0, 2.5, "made safe")
    leave_last_words(str(path), [good])
    assert read_last_words(path) == {"p/3": good}
    path.write_bytes(path.read_bytes() + b'{"say":"ExposureEnded"}\n\xff\n{"say":"Alive","number":1}\n{"tor')
    assert read_last_words(path) == {"p/3": good}
    assert read_last_words(tmp_path / "none") == {}
    leave_last_words(str(tmp_path / "no" / "folder"), [good])
