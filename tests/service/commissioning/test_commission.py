"""A commissioning led by scripted answers: every step, every skip, and a file written whole or not."""

import contextlib
import os
import re
import signal
import sys
from itertools import pairwise

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock
from firmware_py.devices.pin_record import read_record
from firmware_py.service.checking import check
from firmware_py.service.commissioning import commission as whole
from firmware_py.service.commissioning import lamp, probes, relays
from firmware_py.service.commissioning.commission import STEPS, Request, commission
from firmware_py.service.commissioning.draft import Draft
from firmware_py.service.commissioning.gear import found_serials, opened
from firmware_py.service.commissioning.person import Left
from firmware_py.service.commissioning.session import Session
from firmware_py.settings import read_settings
from firmware_py.switchboard.process import ProcessSwitchboard
from tests.devices.w1_folder import W1Folder
from tui.cli import main
from tui.commands.commission import STEPS as OFFERED


class Script:
    """Answers each question by the first word of the table found in it; ``said`` is all that was shown."""

    def __init__(self, **answers):
        self.answers = {words.replace("_", " "): answer for words, answer in answers.items()}
        self.said: list[str] = []
        self.asked: list[str] = []

    def say(self, words):
        self.said.append(words)

    async def ask(self, question):
        self.asked.append(question)
        assert len(self.asked) < 200, f"asked again and again: {question}"
        answer = next((answer for words, answer in self.answers.items() if words in question), "skip")
        if isinstance(answer, list):
            return answer.pop(0) if answer else "skip"
        if isinstance(answer, Exception):
            raise answer
        return answer


def eager(**answers):
    """Return a person who does everything, but for what is said otherwise."""
    lies = answers.pop("lie", ["tray 1", "jacket"])
    plain = {
        "Where_does_it_lie": lies,
        "put_away": "ready",
        "Ready": "ready",
        "Was_it": "yes",
        "off_now": "yes",
        "Have_you_got_it": "ready",
        "in_the_ice": "ready",
        "Write": "yes",
        "result_at_hand": "ready",
        "test_of_the_safelight": "yes",
        "test_of_the_screen": "no",
        "Name_of_the_emulsion": "Kvarnvik ordinary",
        "changed_nothing": "4 min",
        "just_did": "8 min",
        "strip_lies_there": "ready",
        "last_third_uncovered": "ready",
        "Covered_a_little": "ready",
        "short_starts_match": "11",
    }
    return Script(**answers, **{words: answer for words, answer in plain.items() if words not in answers})


async def rehearsed(tmp_path, person, **more):
    target = tmp_path / "bench.toml"
    await commission(Request(write=target, rehearsal=True, **more), person)
    return target


def report_of(folder):
    (report,) = folder.glob("commissioning-*.txt")
    return report.read_text(encoding="utf-8")


async def test_the_whole_ends_with_a_file_that_check_accepts_and_a_report_that_says_rehearsal(tmp_path):
    target = await rehearsed(tmp_path, eager())
    settings = read_settings(target)
    assert {p.serial: p.place for p in settings.probe.values()} == {
        "28-00000000a001": "tray 1",
        "28-00000000a002": "jacket",
    }
    assert settings.probe["tray 1"].offset == pytest.approx(-0.1875)
    assert settings.foot_switch.debounce == pytest.approx(0.02)
    assert settings.lamp.lag == pytest.approx(0.1, abs=0.001)
    assert settings.safelight_test["Kvarnvik ordinary at commissioning"].detectable == 480.0
    wrong = {f.what: f.wrong for f in check(target) if f.wrong}
    assert set(wrong) <= {"probe tray 1", "probe jacket"}, "all but the simulated probes, which no bus has"
    report = report_of(tmp_path)
    assert "REHEARSAL" in report
    assert "in a REHEARSAL" in target.read_text(encoding="utf-8").splitlines()[0]
    for word in ("clicked by its name", "20 movements", "23 exposures", "safe for", "Each start loses"):
        assert word in report


async def test_every_question_can_be_skipped_and_then_nothing_is_changed(tmp_path):
    person = Script()
    target = await rehearsed(tmp_path, person)
    assert not target.exists()
    assert person.asked
    assert "Nothing of bench.toml is to be changed" in report_of(tmp_path)


@pytest.mark.parametrize("words", [words for words in eager().answers if words != "Where does it lie"])
async def test_any_single_question_can_be_skipped(tmp_path, words):
    await rehearsed(tmp_path, eager(**{words.replace(" ", "_"): "skip"}))
    assert report_of(tmp_path)


async def test_a_person_who_leaves_has_written_nothing(tmp_path):
    with pytest.raises(Left):
        await rehearsed(tmp_path, eager(Write=Left()))
    assert list(tmp_path.iterdir()) == []


async def test_relays_that_are_exchanged_are_put_right_and_the_lamp_is_not_timed_by_the_wrong_one(tmp_path):
    person = eager(Was_it_the_safelight="no", Which_one_moved="printing-lamp")
    target = await rehearsed(tmp_path, person, steps=("relays", "timing"))
    relay = read_settings(target).relay
    assert (relay["safelight"].pin, relay["printing-lamp"].pin) == (22, 17)
    assert "Left out" in report_of(tmp_path)


async def test_a_relay_that_is_on_at_rest_is_turned_over_with_a_warning(tmp_path):
    target = await rehearsed(tmp_path, eager(off_now=["no", "yes"]), steps=("relays",))
    assert read_settings(target).relay["safelight"].active_high is False
    assert "change the driver instead" in report_of(tmp_path)


async def test_a_nonsense_answer_is_asked_again(tmp_path):
    person = eager(Where_does_it_lie=["tray 9", "ready", "Tray  2", "room"])
    target = await rehearsed(tmp_path, person, steps=("probes",))
    assert [p.place for p in read_settings(target).probe.values()] == ["tray 2", "room"]
    assert sum("allowed: tray 1 to tray 6" in words for words in person.said) == 2


# --- the file ---

OLD = """# my bench, kept by hand
[relay.safelight]
pin = 17   # the red one

[probe.developer]
serial = "28-00000000a001"
"""


def test_a_file_keeps_its_comments_and_the_old_one_is_kept(tmp_path):
    path = tmp_path / "bench.toml"
    path.write_text(OLD, encoding="utf-8")
    draft = Draft.of(path)
    draft.put("probe", "developer", "offset", "0.1 K")
    now = BootClock().utc()
    kept = draft.write(path, now=now, heading="Commissioned 2026.")
    assert kept is not None
    assert kept.read_text(encoding="utf-8") == OLD
    new = path.read_text(encoding="utf-8")
    assert "# my bench, kept by hand" in new
    assert "pin = 17   # the red one" in new
    assert read_settings(path).probe["developer"].offset == pytest.approx(0.1)
    again = Draft.of(path)
    again.write(path, now=now, heading="Commissioned 2027.")
    assert path.read_text(encoding="utf-8").count("Commissioned") == 1


def test_a_change_that_the_file_does_not_bear_changes_nothing():
    draft = Draft(OLD, where="bench.toml")
    with pytest.raises(Refused):
        draft.put("probe", "developer", "offset", "90 K")
    assert draft.text == OLD
    assert draft.changes == []


def test_a_file_that_can_not_be_written_leaves_the_old_one(tmp_path, monkeypatch):
    path = tmp_path / "bench.toml"
    path.write_text(OLD, encoding="utf-8")
    draft = Draft.of(path)
    draft.put("bench", "name", "shed")

    def no_space(descriptor):
        raise OSError(28, os.strerror(28))

    monkeypatch.setattr(os, "fsync", no_space)
    with pytest.raises(Refused, match="No space left"):
        draft.write(path, now=BootClock().utc(), heading="x")
    assert [each.name for each in tmp_path.iterdir()] == ["bench.toml"]
    assert path.read_text(encoding="utf-8") == OLD


# --- real processes on mock pins ---


async def test_a_real_switchboard_clicks_and_times_the_real_lines(tmp_path, monkeypatch):
    monkeypatch.setattr(relays, "CLICK_S", 0.02)
    monkeypatch.setattr(lamp, "TRIALS_S", (0.05, 0.05))
    monkeypatch.setattr(lamp, "PAUSE_S", 0.01)
    record, config = tmp_path / "pins.txt", tmp_path / "bench.toml"
    config.write_text(
        f'[bench]\npins = "mock"\npin_record = "{record}"\nstate = "{tmp_path}"\n'
        "[relay.safelight]\npin = 17\n[relay.printing-lamp]\npin = 22\n",
        encoding="utf-8",
    )
    monkeypatch.setattr(whole, "opened", without_load(opened))
    await commission(Request(config=config, steps=("relays", "timing")), eager())
    entries = read_record(record)
    assert rises(entries, 17) == 3
    assert rises(entries, 22) == 3 + 2
    report = report_of(tmp_path)
    assert "2 exposures" in report
    assert "Pins by mock" in report
    assert "REHEARSAL" not in report
    for pin in (17, 22):
        assert [e.high for e in entries if e.pin == pin][-1] is False


def without_load(open_gear):
    @contextlib.asynccontextmanager
    async def gear(settings):
        async with open_gear(settings) as real:
            real.load = contextlib.nullcontext
            yield real

    return gear


def rises(entries, pin):
    levels = [e.driven and e.high for e in entries if e.pin == pin]
    return sum(now and not before for before, now in pairwise([False, *levels]))


async def test_probes_on_the_kernel_s_bus_are_told_apart_by_the_hand_and_held_in_ice(tmp_path, monkeypatch):
    monkeypatch.setattr(probes, "LOOK_EVERY_S", 0.01)
    monkeypatch.setattr(probes, "SETTLE_IN_ICE_S", 0.01)
    serials = ("28-0000000000aa", "28-0000000000bb")
    bus = {serial: W1Folder(tmp_path, serial) for serial in serials}
    for folder in bus.values():
        folder.show(19.0)
    config = tmp_path / "bench.toml"
    config.write_text(
        f'[bench]\npins = "mock"\nstate = "{tmp_path}"\n'
        f'[probe.old]\nserial = "{serials[0]}"\nfolder = "{tmp_path}"\nplace = "room"\n',
        encoding="utf-8",
    )

    to_warm = [serials[1], serials[0]]

    class Hand(Script):
        """Warms the second probe first, then the first; and puts both in ice."""

        async def ask(self, question):
            answer = await super().ask(question)
            if "Have you got it" in question and to_warm:
                for folder in bus.values():
                    folder.show(19.0)
                bus[to_warm.pop(0)].show(24.0)
            if "in the ice" in question:
                bus[serials[0]].show(0.25)
                bus[serials[1]].show(-0.125)
            return answer

    person = Hand(**eager().answers | {"Where does it lie": ["tray 2", "jacket"]})
    await commission(Request(config=config, steps=("probes", "ice")), person)
    found = {p.serial: (p.place, float(p.offset)) for p in read_settings(config).probe.values()}
    assert found == {serials[0]: ("jacket", -0.25), serials[1]: ("tray 2", 0.125)}


async def test_an_exposure_whose_switchboard_dies_is_not_taken_for_one_that_was_measured(tmp_path):
    config = tmp_path / "bench.toml"
    config.write_text('[bench]\npins = "mock"\n[relay.printing-lamp]\npin = 22\n', encoding="utf-8")
    async with opened(read_settings(config)) as gear:
        assert isinstance(gear.switchboard, ProcessSwitchboard)
        session = Session(Script(), gear, Draft.of(config))
        os.kill(gear.switchboard.pid or 0, signal.SIGKILL)
        with pytest.raises(Refused, match="was lost"):
            await session.expose("printing-lamp", 0.05, "a")


async def test_a_bench_that_is_running_is_left_alone(tmp_path, monkeypatch):
    config = tmp_path / "bench.toml"
    config.write_text('[bench]\npins = "mock"\n', encoding="utf-8")
    monkeypatch.setattr(whole, "answers", lambda path: True)
    with pytest.raises(Refused, match="controller of this bench is running"):
        await commission(Request(config=config), Script())


def test_the_bus_is_looked_through_for_thermometers(tmp_path):
    for name in ("28-0123456789ab", "w1_bus_master1", "10-000802b4ba0e", "05-000000000001"):
        (tmp_path / name).mkdir()
    assert found_serials(tmp_path) == ["10-000802b4ba0e", "28-0123456789ab"]
    assert found_serials(tmp_path / "none") == []


# --- the command ---


def test_the_command_offers_the_steps_that_there_are():
    assert tuple(STEPS) == OFFERED


@pytest.fixture
def typed(monkeypatch):
    reading, writing = os.pipe()
    with os.fdopen(reading) as stdin:
        monkeypatch.setattr(sys, "stdin", stdin)

        def type_(text):
            os.write(writing, text.encode())
            os.close(writing)

        yield type_


def test_answers_from_a_pipe_lead_through_a_step(typed, tmp_path, capsys):
    typed("ready\nyes\nyes\n")
    write, report = str(tmp_path / "bench.toml"), str(tmp_path / "report.txt")
    words = ["commission", "--rehearsal", "--step", "foot", "--write", write, "--report", report]
    assert main(words) == 0
    shown = capsys.readouterr().out
    assert re.search(r"A debounce of 20\s+ms is proposed", shown)
    assert (tmp_path / "report.txt").exists()


def test_an_end_of_the_answers_is_leaving(typed, tmp_path, capsys):
    typed("ready\n")
    assert main(["commission", "--rehearsal", "--write", str(tmp_path / "bench.toml")]) == 1
    assert "nothing was written" in capsys.readouterr().out
    assert list(tmp_path.iterdir()) == []


def test_without_a_bench_file_it_says_what_to_do(monkeypatch, capsys, tmp_path):
    monkeypatch.setattr(whole, "settings_path", lambda: None)
    with open(os.devnull) as nothing:  # noqa: PTH123 - a device
        monkeypatch.setattr(sys, "stdin", nothing)
        assert main(["commission"]) == 1
    assert "--rehearsal" in capsys.readouterr().err
