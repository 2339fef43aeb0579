"""``embertray reckon paper`` knows range, grade, negative, burns and other papers, or says why not."""

from __future__ import annotations

import pytest

from firmware_py.craft.refusal import Refused
from tests.tui.commands.reckonings.asking import reckon

CURVE = ["0:0.05", "0.3:0.07", "0.6:0.25", "0.9:0.80", "1.2:1.50", "1.5:1.90", "1.8:2.00"]
POINTS = [word for point in CURVE for word in ("--point", point)]


def test_a_curve_gives_range_and_grade_and_says_what_is_from_memory():
    answer = reckon("paper", *POINTS)
    assert answer.values["log_range"] == pytest.approx(1.0917, abs=1e-4)
    assert answer.values["iso_range"] == 110
    assert answer.values["grade"] == 2
    assert "from memory" in answer.lines[-1]


def test_a_negative_is_compared_with_the_paper():
    answer = reckon("paper", *POINTS, "--negative", "1.4")
    assert answer.values["verdict"] == "too hard"
    assert answer.values["gamma_times"] == pytest.approx(1.0917 / 1.4, abs=1e-4)


def test_a_stained_negative_alone_is_given_its_grade():
    answer = reckon("paper", "--negative", "0.8", "--stain", "1.45")
    assert answer.values == {"printing_density_range": 1.16, "grade": 1}


def test_a_wedge_by_eye_and_bounds_of_one_s_own():
    answer = reckon(
        "paper",
        "--first-tone",
        "1.65",
        "--full-black",
        "0.6",
        "--bounds",
        "2:0.9-1.0",
        "--bounds",
        "1:1.0-1.4",
    )
    assert answer.values["log_range"] == pytest.approx(1.05)
    assert answer.values["grade"] == 1
    assert "your own" in str(answer.values["bounds"])


def test_burns_and_dodges_go_with_the_base():
    answer = reckon("paper", "--base", "8s", "--burn", "1/3", "--burn", "1", "--dodge", "1")
    assert answer.values["burns"] == [
        {"stops": pytest.approx(1 / 3), "extra_s": pytest.approx(2.079368)},
        {"stops": 1.0, "extra_s": 8.0},
    ]
    assert answer.values["dodges"] == [{"stops": 1.0, "shaded_s": 4.0}]


def test_burns_go_with_the_base_of_the_other_paper():
    answer = reckon("paper", "--base", "8s", "--from-speed", "200", "--to-speed", "80", "--burn", "1")
    assert answer.values["base_s"] == 20.0
    assert answer.values["burns"] == [{"stops": 1.0, "extra_s": 20.0}]


@pytest.mark.parametrize(
    ("words", "place"),
    [
        ((), "not enough"),
        ((*POINTS, "--range", "1.05"), "two ranges"),
        (("--point", "0.3"), "--point"),
        (("--first-tone", "1.65"), "half a wedge"),
        (("--range", "0.4"), "grade"),
        (("--bounds", "2", "--range", "1"), "--bounds"),
        (("--bounds", "2:1.0-0.9", "--range", "1"), "lower bound first"),
        (("--burn", "1"), "no base exposure"),
        (("--base", "8s", "--from-speed", "200"), "one speed"),
        (("--base", "8s", "--burn", "9"), "burn"),
        (("--negative", "1", "--stain", "0.5"), "stain"),
    ],
)
def test_what_is_no_paper_question_is_refused_with_its_place(words, place):
    with pytest.raises(Refused, match=place):
        reckon("paper", *words)
