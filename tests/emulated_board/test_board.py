"""The emulated board as a test: ``pytest -m emulated_board``. What its table means is tested in any run."""

from typing import Any

import pytest

from tests.emulated_board.board import boot, failings
from tests.emulated_board.image import make_image, missing_tools

GOOD: list[dict[str, Any]] = [
    {"what": "board", "persistence": "N", "python": "3.11.2"},
    {"what": "exposure", "wanted_s": 2.0, "seen_s": 2.01},
    {
        "what": "strike",
        "victims": "switchboard",
        "signal": "SIGKILL",
        "within_s": 1.5,
        "dark_s": 0.4,
        "lit_again": False,
        "left_as": "gpio_in",
    },
    {"what": "over"},
]


@pytest.fixture(scope="module")
def image(tmp_path_factory):
    missing = missing_tools()
    if missing:
        pytest.skip(f"these of Debian's packages are not here: {', '.join(missing)}")
    return make_image(tmp_path_factory.mktemp("board"))


@pytest.mark.emulated_board
@pytest.mark.timeout(1500)
@pytest.mark.parametrize("persistence", [False, True])
def test_the_lamp_goes_dark_on_a_real_kernel_s_pins_whatever_dies(image, tmp_path, persistence):
    assert failings(boot(image, tmp_path, persistence=persistence), persistence=persistence) == []


def test_a_good_run_has_no_failings():
    assert failings(GOOD, persistence=False) == []


@pytest.mark.parametrize(
    ("number", "change", "word"),
    [
        (0, {"persistence": "Y"}, "persistence"),
        (1, {"seen_s": 2.4}, "exposure"),
        (1, {"seen_s": None}, "exposure"),
        (2, {"dark_s": 1.6}, "lit"),
        (2, {"dark_s": None}, "lit"),
        (2, {"lit_again": True}, "lit"),
        (3, {"what": "failure", "words": "it broke"}, "it broke"),
    ],
)
def test_whatever_is_not_as_it_must_be_is_a_failing(number, change, word):
    said = [{**fact, **change} if n == number else fact for n, fact in enumerate(GOOD)]
    assert any(word in words for words in failings(said, persistence=False))


def test_a_guest_that_does_not_come_to_its_end_is_a_failing():
    assert failings(GOOD[:-1], persistence=False) == ["the guest did not come to its end"]
