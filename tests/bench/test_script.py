"""Scripts: deeds for one plate wait for each other and for nobody else; nonsense is refused."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.facts.events import run as ev
from firmware_py.rehearsal.script import Script, shipped_script
from firmware_py.strict_toml import read_toml_text
from tests.bench.rehearsing import play, script_of

A = 'at = "0 s"\nopen = { plate = "A", routine = "metol-hydroquinone", tray = 3 }'
B = 'at = "1 s"\nopen = { plate = "B", routine = "pyro-soda", others = ["C"], box = "spring" }'


async def test_the_deeds_of_one_plate_do_not_wait_for_those_of_another(tmp_path: Path):
    """A waits for its end; B, written below, goes on meanwhile; and a foot turns to the tray it is for."""
    done = await play(
        tmp_path,
        script_of(
            A,
            B,
            'of = "A"\nat = "2 s"\nfoot = "press"',
            'of = "A"\nwhen = "developed"\nlater = "1 s"\nnote = "after"',
            'tray = 1\nat = "3 s"\nfoot = "press"',
            'of = "C"\nat = "10 s"\nmark = "image appears"',
            'of = "B"\nat = "20 s"\npull = true',
        ),
    )
    assert done.run("A")["tray"] == "tray 3"
    assert done.run("B")["plates"] == ("B", "C")
    assert done.run("B")["box"] == "spring"
    assert [m["elapsed_s"] for m in done.run("B")["marks"]] == [pytest.approx(7.0)]
    assert done.run("B")["elapsed_s"] == pytest.approx(17.0)
    assert done.run("A")["notes"] == ("after",)
    assert done.came["refused"] == []


async def test_a_person_sees_the_signs_of_a_simulated_plate_in_equivalent_time(tmp_path: Path):
    """At 40 equivalent seconds, within the second between two looks."""
    image = 'image = { appears = "40 s", shadow_detail = "2 min" }'
    done = await play(
        tmp_path,
        script_of(
            f'at = "0 s"\nopen = {{ plate = "A", routine = "metol-hydroquinone", {image} }}',
            'at = "0 s"\nproceed = true',
            'when = "sees image appears"\nmark = "image appears"',
            'when = "sees shadow detail shows"\npull = true',
        ),
    )
    run = done.run("A")
    assert run["marks"][0]["equivalent_s"] == pytest.approx(40.5, abs=0.6)
    assert run["equivalent_s"] == pytest.approx(120.5, abs=0.6)


async def test_a_water_of_the_script_is_read_by_a_probe_of_its_own(tmp_path: Path):
    """And cools as Newton says: half-way to the room in its half time."""
    water = '[[water]]\nbath = "pyro-soda developer"\nstart = "19 degC"\nroom = "15 degC"\nhalf = "5 min"\n'
    done = await play(tmp_path, script_of(B, 'at = "1 s"\nproceed = true', water=water))
    [opened] = done.events(ev.RunOpened)
    assert opened.plate == "B"
    degrees = [e.bath_degC for e in done.events(ev.TemperatureRead)]
    assert degrees[0] == pytest.approx(19.0, abs=0.15)
    assert degrees[298] == pytest.approx(15.0 + 4.0 / math.sqrt(2.0) ** 2, abs=0.15)


async def test_a_deed_for_a_plate_that_never_was_is_said_and_holds_up_nothing(tmp_path: Path):
    done = await play(
        tmp_path, script_of(A, 'of = "Z"\nat = "1 s"\npull = true', 'at = "2 s"\nabandon = true')
    )
    assert done.came["refused"] == ["script: no run of 'Z' lies on the bench"]
    assert done.run("A")["ended"] == "abandoned"


@pytest.mark.parametrize(
    ("deed", "words"),
    [
        ('at = "0 s"\nof = "A"\ntray = 1\npull = true', "not both"),
        ('at = "0 s"\nof = "A"\nopen = { plate = "A", routine = "x" }', "its own plate"),
        ('when = "soon"\npull = true', "`when` is 'soon'; allowed: due, developed"),
        ('when = "sees fog"\npull = true', "a simulated plate shows: image appears"),
        ('when = "step "\npull = true', "`when` is 'step '"),
        ('at = "0 s"\nfault = "probe silent"\naway = "3 s"', "go with controller killed, power cut"),
        ('at = "0 s"\nfault = "foot stuck"\nprobe = "x"', "goes with a fault of a probe"),
        ('at = "0 s"\ntray = 7\npull = true', "line 4, key"),
        ('at = "0 s"\nfault = "fire"', "allowed: controller killed"),
        ('at = "0 s"\npull = true\nmark = "x"', "exactly one of"),
    ],
)
def test_a_deed_that_can_not_be_meant_is_refused(deed: str, words: str):
    with pytest.raises(Refused, match=words):
        script_of(deed)


def test_times_may_go_back_only_between_plates():
    """Each plate has its own order."""
    script_of('at = "9 s"\nof = "A"\npull = true', 'at = "3 s"\nof = "B"\npull = true')
    with pytest.raises(Refused, match="deed 2: `at` 3 s lies before 9 s"):
        script_of('at = "9 s"\nof = "A"\npull = true', 'at = "3 s"\nof = "A"\npull = true')


def test_two_waters_of_one_bath_are_refused():
    text = (
        'title = "x"\n[[deed]]\nat = "0 s"\npull = true\n' + 2 * '[[water]]\nbath = "b"\nstart = "20 degC"\n'
    )
    with pytest.raises(Refused, match="two of `water` are one bath"):
        read_toml_text(text, Script, where="s")


def test_the_shipped_scripts_are_read():
    assert len(shipped_script("four-plates").deed) > 40
    assert shipped_script("one-plate").water == []
