"""``embertray logbook verdict``, ``advice`` and ``daylight --box``: into the book, and out of it again."""

from __future__ import annotations

import json
from math import log2

import pytest
from msgspec.structs import replace

from firmware_py.facts.events.box import BoxEntered
from firmware_py.facts.events.life import (
    ExposureNoted,
    PlateAdvanced,
    PlateBoxed,
    PlateExposed,
    PlateLaidOut,
)
from firmware_py.facts.events.life import PlateLoaded as Loaded
from firmware_py.facts.events.run import AnyEvent
from firmware_py.journal.box_advice import advice_of_box
from firmware_py.journal.exposed import Exposures
from firmware_py.journal.reading import JournalReader
from firmware_py.journal.store import Journal
from firmware_py.service.book_questions import OpenPage, PageOpened
from firmware_py.service.bookshelf import Bookshelf
from tests.journal.making import numbered, subject
from tests.journal.making_verdicts import DRY, judged_run_entries
from tests.report.sheets.making import Read
from tui.cli import main
from tui.pages.logbook.words import exposure_words

RUN, OTHER, BOX, PLATE = subject(1), subject(2), subject(3), subject(4)
NOTED = ExposureNoted(
    taken="2026-06-21T12:00+01:00",
    latitude_deg=56.05,
    longitude_deg=-2.72,
    scene="landscape",
    sky="clear",
    lighting="front",
    f_number=16.0,
    time_s=0.25,
)


@pytest.fixture
def path(tmp_path):
    path = tmp_path / "journal.db"
    entered = BoxEntered(
        name="spring 1",
        size="English half plate",
        emulsion="",
        sensitivity="blue",
        speed_index=4.0,
        batch="",
        opened_utc="",
        rehearsal=True,
    )
    life: list[AnyEvent] = [
        PlateBoxed(name="half plate 7", box_id=BOX, box="spring 1", rehearsal=True),
        Loaded(holder_id="h", holder="3", side="A"),
        PlateExposed(),
        NOTED,
        PlateLaidOut(run_id=RUN, tray="tray 1"),
        PlateAdvanced(to="developing", run_id=RUN),
    ]
    with Journal.open(path) as journal:
        journal.append(numbered(BOX, [(0.0, entered)]))
        journal.append(numbered(PLATE, [(float(n), event) for n, event in enumerate(life)]))
        journal.append(judged_run_entries(RUN, replace(DRY, contrast="hard", density="right")))
        journal.append(judged_run_entries(OTHER, DRY, box="winter"))
    return path


def embertray(capsys, *words):
    code = main([*map(str, words)])
    said = capsys.readouterr()
    return code, said.out, said.err


def test_a_verdict_is_kept_and_shown_and_the_last_one_counts(path, capsys, tmp_path):
    words = ("--density", "thin", "--contrast", "rather flat", "--fault", "stain", "--fault", "pinholes")
    measures = ("--shadow", "0.3", "--highlight", "1.1", "--clear", "0.2", "--remark", "sky too thin")
    code, out, _ = embertray(capsys, "logbook", "verdict", OTHER, *words, *measures, "--journal", path)
    assert (code, out) == (
        0,
        (
            "half plate 7: after drying: density thin, contrast rather flat, fog none, stain, pinholes, "
            "shadow 0.30, high light 1.10, fog 0.20, sky too thin\n"
        ),
    )
    code, out, _ = embertray(capsys, "logbook", "show", OTHER, "--journal", path)
    told = dict(line.strip().split(maxsplit=1) for line in out.splitlines()[2:])
    assert (told["density"], told["contrast"], told["shadow"]) == ("thin", "rather flat", "0.30")
    assert told["verdict"] == "of half plate 7"
    target = tmp_path / "sheet.html"
    assert embertray(capsys, "logbook", "sheet", OTHER, "-o", target, "--journal", path)[0] == 0
    assert "sky too thin" in target.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--gamma", "7"), "gamma"),
        (("--clear", "0.5", "--shadow", "0.4"), "in this order"),
        (("--plate", "another"), "no plate"),
        (("--remark", "x" * 2001), "up to 2000"),
    ],
)
def test_what_can_not_be_is_refused_in_one_line(path, capsys, words, said):
    verdict = ("logbook", "verdict", RUN, "--density", "thin", "--contrast", "flat", "--journal", path)
    code, out, err = embertray(capsys, *verdict, *words)
    assert (code, out, len(err.splitlines())) == (1, "", 1)
    assert said in err


def test_what_a_plate_got_beside_daylight_is_what_daylight_itself_prints(path, capsys):
    where = ("--at", "56.05N 2.72W", "--plate", "blue", "--index", "4", "--stop", "f/16", "--json")
    _, out, _ = embertray(capsys, "daylight", *where, "--on", NOTED.taken)
    wanted_s = json.loads(out)["time_s"]
    with Journal.open(path) as journal:
        exposed = Exposures(journal._connection).exposed_stops
        assert exposed(RUN, "half plate 7") == pytest.approx(log2(0.25 / wanted_s))
        assert exposed(RUN, "half plate 8") is None
        assert exposed(OTHER, "half plate 7") is None
        told = advice_of_box(journal._connection, "spring 1")
    assert told.correction is not None
    correction = told.correction.stops
    assert told.plates[0].exposed_stops == pytest.approx(log2(0.25 / wanted_s))

    _, out, _ = embertray(
        capsys, "daylight", *where, "--on", NOTED.taken, "--box", "Spring 1", "--journal", path
    )
    learned = json.loads(out)
    assert learned["time_s"] == pytest.approx(wanted_s * 2**correction)
    assert (learned["box"], learned["correction_plates"], learned["box_rehearsal"]) == ("spring 1", 1, True)
    _, out, _ = embertray(
        capsys, "daylight", *where[:-1], "--on", NOTED.taken, "--box", "spring 1", "--journal", path
    )
    assert f"box spring 1 by the book of REHEARSALS: {correction:+.1f} stop" in out
    assert "from 1 plate" in out


def test_the_sheet_tells_the_exposure_beside_daylight(path, capsys, tmp_path):
    target = tmp_path / "sheet.html"
    assert embertray(capsys, "logbook", "sheet", RUN, "-o", target, "--journal", path)[0] == 0
    said = Read(target.read_text(encoding="utf-8")).text
    for words in ("Side 3A", "When 2026-06-21 12:00", "Light clear, landscape, front", "Time 1/4 s"):
        assert words in said
    with JournalReader.open(path) as reader:
        (exposed,) = Exposures(reader.connection).of_run(RUN)
        page = Bookshelf(path).answer(OpenPage(run=RUN))
    assert exposed.against is not None
    assert f"this is {exposed.against.more_stops:+.1f} stop" in said
    assert isinstance(page, PageOpened)
    (line,) = page.exposures
    words = exposure_words(line, page.run)
    assert words.startswith("2026-06-21 12:00, in side 3A, 1/4 s, clear")
    assert f"{exposed.against.more_stops:+.1f} stop beside daylight" in words


def test_a_box_of_which_nothing_was_learned_is_refused(path, capsys):
    where = ("daylight", "--at", "56.05N 2.72W", "--plate", "blue", "--index", "4", "--stop", "f/16")
    for words, said in (
        (("--box", "winter", "--journal", path), "no judged plate of it has a note of its exposure"),
        (("--box", "autumn", "--journal", path), "no plate of it was judged yet"),
        (("--box", "spring 1", "--journal", path, "--correction", "1"), "one of the two"),
        (("--journal", path), "with --box"),
    ):
        code, _, err = embertray(capsys, *where, "--on", NOTED.taken, *words)
        assert (code, said in err) == (1, True), err


def test_the_advice_is_printed_with_its_reason(path, capsys):
    code, out, _ = embertray(capsys, "logbook", "advice", "spring 1", "--journal", path)
    assert code == 0
    for words in ("Next plate of spring 1 in pyro-soda, REHEARSAL", " in 10 fit a paper of log range 1.05"):
        assert words in out
    _, out, _ = embertray(capsys, "logbook", "advice", "spring 1", "--journal", path, "--json")
    told = json.loads(out)
    assert len(told["plates"]) == 1
    assert 0 < told["advice"]["chance"] < 1
    assert told["belief"]["speed_stops"]["doubt"] > 0
