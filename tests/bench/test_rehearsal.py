"""A whole rehearsal: exact, the same twice, and honest about a recorded temperature."""

from __future__ import annotations

import asyncio
import math
import re
import shutil
from itertools import pairwise
from pathlib import Path
from typing import Any

import msgspec
import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.journal.store import Journal
from firmware_py.rehearsal.rehearsal import RehearsalPlan, read_speed
from firmware_py.rehearsal.script import Script, shipped_script
from firmware_py.rehearsal.world import read_trace
from firmware_py.service.serving import rehearsal_plan, rehearse
from firmware_py.strict_toml import read_toml_text


def play(folder: Path, **asked: Any) -> dict[str, Any]:
    plan = rehearsal_plan(
        state=folder, script=asked.get("script"), trace=asked.get("trace"), speed="max", unattended=True
    )
    return asyncio.run(rehearse(plan))


@pytest.fixture(scope="module")
def evening(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, dict[str, Any]]:
    """The shipped rehearsal, played once: its folder, and what came of it."""
    folder = tmp_path_factory.mktemp("evening")
    return folder, play(folder)


# The development of the shipped rehearsal alone.
ONE_DEVELOPMENT = """title = "one development"
[[deed]]
at = "0 s"
open = { plate = "p", routine = "metol-hydroquinone" }
[[deed]]
at = "0 s"
foot = "press"
"""


def play_one_development(folder: Path, **asked: Any) -> dict[str, Any]:
    """Return the run of it, which is left when its time is over."""
    (folder / "s.toml").write_text(ONE_DEVELOPMENT, encoding="utf-8")
    run: dict[str, Any] = play(folder / "state", script=folder / "s.toml", **asked)["runs"][0]
    return run


ID = re.compile(r"[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}")


def bare(folder: Path) -> list[tuple[Any, ...]]:
    """Everything in the journal but ids and wall-clock."""
    with Journal.open(folder / "journal.db") as journal:
        return [
            (entry.number, entry.boot_s, ID.sub("id", msgspec.json.encode(entry.event).decode()))
            for subject in journal.subjects()
            for entry in journal.read(subject)
        ]


def test_two_rehearsals_of_one_script_write_the_same_journal(evening, tmp_path: Path):
    """But for ids and wall-clock, to the last digit."""
    folder, _ = evening
    play(tmp_path)
    assert bare(tmp_path) == bare(folder)


def test_a_rehearsed_plate_comes_out_at_its_target(evening):
    """Six minutes at 20 degC, whatever the cooling tray makes of them."""
    _, came = evening
    run = came["runs"][0]
    assert run["ended"] == "time"
    assert run["equivalent_s"] == pytest.approx(run["target_s"], rel=1e-9)
    told = ["image appears", "sky is up", "shadow detail shows", "plate is clear"]
    assert [m["what"] for m in run["marks"]] == told
    assert [s["name"] for s in run["steps"]] == ["Develop", "Rinse", "Fix", "Wash"]


def test_a_rehearsal_makes_a_contact_print_of_the_plate_it_developed(evening):
    """A strip of seven, a choice half-way between two patches, a print with one burn, through its baths."""
    _, came = evening
    (plate,), (paper,) = came["runs"], came["paper_runs"]
    (made,) = came["prints"]
    assert came["refused"] == []
    assert made["run_id"] == plate["run_id"]
    assert [p["effective_s"] for p in made["patches"]] == pytest.approx(
        [8.0 * 2 ** (0.5 * n) for n in range(-3, 4)]
    )
    base_s = 8.0 * 2**0.25
    assert made["base_s"] == pytest.approx(base_s)
    assert made["effective_s"] == pytest.approx(base_s * 2**0.5)
    assert made["measured_s"] == pytest.approx(made["planned_s"])
    assert made["measured_s"] == pytest.approx(made["effective_s"] + 2 * made["lag_s"])
    assert made["sheets"][1]["run_id"] == paper["run_id"]
    assert paper["ended"] == "time"


FALLING = [(0.0, 21.0), (120.0, 19.4), (300.0, 17.2), (480.0, 16.0)]


def write_trace(folder: Path, points: list[tuple[float, float]]) -> Path:
    path = folder / "trace.csv"
    path.write_text("time_s,bath_degC\n" + "".join(f"{t},{b}\n" for t, b in points), encoding="utf-8")
    return path


def integral(
    points: list[tuple[float, float]], end_s: float, ln_per_K: float, reference_degC: float
) -> float:
    """The exact integral of the rate along straight lines of temperature: no quadrature at all."""
    total = 0.0
    for (t0, b0), (t1, b1) in pairwise(points):
        stop = min(t1, end_s)
        if stop <= t0:
            break
        slope = (b1 - b0) / (t1 - t0)
        r0 = math.exp(ln_per_K * (b0 - reference_degC))
        a = ln_per_K * slope
        total += r0 * (math.expm1(a * (stop - t0)) / a if a else stop - t0)
    return total


def test_a_recorded_temperature_gives_the_equivalent_time_of_an_exact_integral(tmp_path: Path):
    """Within 0.1 %, and development ends within one reading of the target."""
    run = play_one_development(tmp_path, trace=write_trace(tmp_path, FALLING))
    exact = integral(FALLING, run["elapsed_s"], run["rate_per_K"], run["reference_degC"])
    assert run["equivalent_s"] == pytest.approx(exact, rel=1e-3)
    before = integral(FALLING, run["elapsed_s"] - 1.0, run["rate_per_K"], run["reference_degC"])
    after = integral(FALLING, run["elapsed_s"] + 1.0, run["rate_per_K"], run["reference_degC"])
    assert before < run["target_s"] < after


def test_a_trace_that_ends_too_soon_leaves_the_timer_running_on_the_trend(tmp_path: Path):
    """The readings stop, the development does not."""
    short = [(t, b) for t, b in FALLING if t <= 300.0]
    run = play_one_development(tmp_path, trace=write_trace(tmp_path, short))
    assert run["steps"][0]["ended"] == "time"
    assert run["elapsed_s"] > 300.0


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("time,temp\n0,20\n1,20\n", "header is 'time,temp'; allowed: time_s,bath_degC"),
        ("time_s,bath_degC\n0,20\nx,20\n", "line 3"),
        ("time_s,bath_degC\n0,20\n1,200\n", "line 3: bath_degC is 200"),
        ("time_s,bath_degC\n5,20\n6,20\n", "begins at 5 s"),
        ("time_s,bath_degC\n0,20\n9,20\n4,20\n", "point 3|line 4"),
        ("time_s,bath_degC\n0,nan\n1,20\n", "line 2"),
        ("", "header is 'nothing'"),
        ("time_s,bath_degC\n0,20\n", "two|2"),
    ],
)
def test_a_wrong_trace_is_refused_with_its_line(tmp_path: Path, text: str, words: str):
    """File, line, what was found, what is allowed."""
    path = tmp_path / "trace.csv"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(Refused, match=words):
        read_trace(path)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ('title = "x"\n[[deed]]\nat = "0 s"\n', "exactly one of"),
        ('title = "x"\n[[deed]]\nfoot = "press"\n', "either `at` or `when`"),
        ('title = "x"\n[[deed]]\nat = "0 s"\nfoot = "kick"\n', "foot"),
        ('title = "x"\n[[deed]]\nat = "5 s"\nfoot="press"\n[[deed]]\nat = "1 s"\nfoot="press"\n', "deed 2"),
        ('title = "x"\n[[deed]]\nat = "0 s"\nmark = "a"\npul = true\n', "did you mean `pull`"),
    ],
)
def test_a_wrong_script_is_refused_before_anything_starts(text: str, words: str):
    """One line: what, where, what is allowed."""
    with pytest.raises(Refused, match=words):
        read_toml_text(text, Script, where="script.toml")


def test_a_script_with_an_unknown_routine_is_refused_before_anything_starts(tmp_path: Path):
    """And no journal is made."""
    script = tmp_path / "s.toml"
    script.write_text(
        'title = "x"\n[[deed]]\nat = "0 s"\nopen = { plate = "p", routine = "none" }\n', encoding="utf-8"
    )
    with pytest.raises(Refused, match=r"deed 1: there is no routine 'none'; allowed: metol-hydroquinone"):
        play(tmp_path / "state", script=script)
    assert not (tmp_path / "state").exists()


def test_the_whole_rehearsal_can_be_told_to_misbehave(tmp_path: Path):
    """A probe that falls silent in the script: the run goes on by the trend."""
    script = tmp_path / "s.toml"
    script.write_text(ONE_DEVELOPMENT + '[[deed]]\nat = "60 s"\nfault = "probe silent"\n', encoding="utf-8")
    run = play(tmp_path / "state", script=script)["runs"][0]
    assert run["state"] == "due"
    assert run["steps"][0]["ended"] == "time"
    assert run["elapsed_s"] == pytest.approx(355.0, abs=8.0)


@pytest.mark.parametrize("text", ["fast", "0", "-1", "nan", "1e9", "inf"])
def test_a_speed_that_means_nothing_is_refused(text: str):
    """max, or a number with bounds."""
    with pytest.raises(Refused, match="--speed"):
        read_speed(text)


def test_the_shipped_script_opens_a_shipped_routine():
    """The plan of the first command in README holds together."""
    RehearsalPlan(journal=Path("unused"), script=shipped_script("one-plate"))


def test_the_script_in_the_manual_plays_as_it_says(tmp_path: Path):
    """The page's example is a script that runs."""
    page = (Path(__file__).parents[2] / "docs" / "rehearsal.md").read_text(encoding="utf-8")
    script = tmp_path / "manual.toml"
    script.write_text(page.split("```toml\n")[1].split("```")[0], encoding="utf-8")
    run = play(tmp_path / "state", script=script)["runs"][0]
    assert run["ended"] is None
    assert run["steps"][0]["ended"] == "pulled"
    assert run["elapsed_s"] == pytest.approx(240.0)


def moments(folder: Path) -> list[str]:
    with Journal.open(folder / "journal.db") as journal:
        return sorted(entry.utc for subject in journal.subjects() for entry in journal.read(subject))


def test_a_second_rehearsal_in_the_same_book_begins_after_the_first(evening, tmp_path: Path):
    """One that ran fast ended later than it is now: the wall clock must not go back over it."""
    folder, _ = evening
    shutil.copytree(folder, tmp_path / "again")
    first = moments(tmp_path / "again")
    play(tmp_path / "again")
    both = moments(tmp_path / "again")
    assert both[: len(first)] == first
    assert len(both) > len(first) > 0
