"""A formula file is read whole, or refused with the place in it."""

from pathlib import Path

import pytest

from firmware_py.craft.mixing import mixing_card
from firmware_py.craft.refusal import Refused
from firmware_py.craft.shelf import FORBIDDEN
from firmware_py.data.as_printed import System, read_water, read_weighed
from firmware_py.data.formulary import read_formula, shipped_formula, shipped_formulas

GOOD = """\
title = "Pyro as I mix it"
kind = "developer"
source = "own"

[print]
ounce = "avoirdupois"
measure = "imperial"

[[solution]]
name = "developer"
water = "to 1 pint"

[[solution.part]]
salt = "sulphite of soda cryst."
printed = "2 oz"

[[solution.part]]
salt = "pyro"
printed = "60 gr"
"""


@pytest.fixture
def mine(tmp_path):
    def write(text=GOOD, **swaps):
        for old, new in swaps.items():
            assert old in text
            text = text.replace(old, new)
        path = tmp_path / "mine.toml"
        path.write_text(text, encoding="utf-8")
        return path

    return write


def refused(path):
    with pytest.raises(Refused) as found:
        read_formula(path)
    line = str(found.value)
    assert str(path) in line
    assert "\n" not in line
    return line


def test_a_file_becomes_a_formula_called_after_it(mine):
    found = read_formula(mine())
    assert found.name == "mine"
    assert [part.salt.name for part in found.solutions[0].parts] == [
        "sodium sulphite heptahydrate",
        "pyrogallol",
    ]
    assert found.solutions[0].parts[0].printed.grams == pytest.approx(2 * 28.349523125)
    assert found.solutions[0].made_up


def test_an_imperial_and_a_us_pint_give_different_grams(mine):
    def pyro(path):
        weighing = mixing_card(read_formula(path), 500).solutions[0].parts[1].weighing
        assert weighing is not None
        return weighing.grams

    english = pyro(mine())
    american = pyro(mine(GOOD.replace('measure = "imperial"', 'measure = "U.S."')))
    assert american / english == pytest.approx(568.26125 / 473.176473)


def test_an_avoirdupois_and_an_apothecaries_ounce_give_different_grams(mine):
    def sulphite(path):
        return read_formula(path).solutions[0].parts[0].printed.grams or 0.0

    english = sulphite(mine())
    other = sulphite(mine(GOOD.replace('ounce = "avoirdupois"', 'ounce = "apothecaries"')))
    assert other / english == pytest.approx(480 / 437.5)


@pytest.mark.parametrize(
    ("old", "new", "place", "said"),
    [
        ('ounce = "avoirdupois"\n', "", 'solution 1 ("developer"), part 1', "which ounce"),
        ('measure = "imperial"\n', "", 'solution 1 ("developer"), key `water`', "whose measure"),
        ('"60 gr"', '"60"', "part 2 (pyrogallol), key `printed`", "has no unit"),
        ('"60 gr"', '"60 gn"', "part 2 (pyrogallol), key `printed`", "not known"),
        ('"60 gr"', '"2 fl oz"', "part 2 (pyrogallol), key `printed`", "a solid is weighed"),
        ('"60 gr"', '"0 gr"', "part 2 (pyrogallol), key `printed`", "is nothing"),
        ('"60 gr"', "60", "solution[0].part[1].printed", "str"),
        ('"pyro"', '"pyrro"', 'solution 1 ("developer"), part 2, key `salt`', "pyro"),
        ('"pyro"', '"sodium carbonate"', "part 2, key `salt`", "which form"),
        ('"pyro"', '"mercuric chloride"', "part 2, key `salt`", "mercury"),
        ('printed = "60 gr"', 'prnted = "60 gr"', "solution[0].part[1]", "printed"),
        ('title = "', 'tittle = "', "key `tittle`", "title"),
        ('source = "own"\n', "", "key `source`", "missing"),
        ('"developer"\nsource', '"soup"\nsource', "key `kind`", "soup"),
        ('"to 1 pint"', '"to the brim"', "key `water`", ""),
        ('"Pyro as I mix it"', '"Pyro\\u001b[31m"', "key `title`", "regex"),
        ('"60 gr"', '"60 gr"\nadvice = "a\\u009bb"', "advice", "regex"),
        ('"to 1 pint"', '"to 500 g"', "key `water`", "volume"),
        ('"60 gr"', '"60 gr"\nmetric = "7 g"', "key `water_metric`", "gaps"),
        ('"to 1 pint"', '"to 1 pint"\nstart_at = "warm"', "start_at", "warm"),
        ('"to 1 pint"', '"to 1 pint"\nstart_share = 2.0', "start_share", ""),
        ("[print]", "[working]\nparts = { A = 1 }\n\n[print]", "table `working`", 'no solution "A"'),
        ("[print]", '[working]\nbasis = "water"\n\n[print]', "table `working`", "no solution"),
        ("[print]", '[capacity]\narea = "1 m2"\nper = "1 l"\n\n[print]', "key `capacity.source`", "missing"),
        (
            "[print]",
            '[capacity]\narea = "1 m2"\nper = "1 lb"\nsource = "own"\n\n[print]',
            "key `per`",
            "volume",
        ),
        (
            "[print]",
            '[capacity]\narea = "1 m2"\nper = "1 l"\nlonger_percent = 10.0\nsource = "own"\n\n[print]',
            "table `capacity`",
            "half a rule",
        ),
        ("[print]", "[development]\nfactor = 5\n\n[print]", "table `development`", "factor_source"),
        (
            "[print]",
            '[development]\ncoefficient = "2.4"\ncoefficient_source = "x"\n\n[print]',
            "coefficient",
            "which",
        ),
        (
            "[print]",
            '[development]\ntime = "6 min"\ntime_source = "own"\n\n[print]',
            "development",
            "temperature",
        ),
        ("[print]", '[keeping]\nmixed = "long"\nsource = "own"\n\n[print]', "keeping.mixed", "long"),
    ],
)
def test_a_mistake_is_refused_with_its_place_in_the_file(mine, old, new, place, said):
    line = refused(mine(GOOD.replace(old, new, 1)))
    assert place in line
    assert said in line


def test_two_solutions_of_one_name_and_a_solution_left_out_are_refused(mine):
    twice = GOOD + GOOD[GOOD.index("[[solution]]") :]
    assert "names two things" in refused(mine(twice))
    second = GOOD[GOOD.index("[[solution]]") :].replace('name = "developer"', 'name = "B"')
    out = "[working]\nparts = { developer = 1 }\n\n" + second
    assert 'solution "B" is left out' in refused(mine(GOOD + out))


def test_a_file_that_is_no_formula_at_all_is_refused(mine, tmp_path):
    assert "not TOML" in refused(mine("title = "))
    assert "can not" in refused(tmp_path / "none.toml") or "cannot" in refused(tmp_path / "none.toml")
    assert "solution" in refused(mine('title = "x"\nkind = "fixer"\nsource = "own"\nsolution = []\n'))


def test_ounces_of_a_liquid_must_say_whether_they_are_weighed():
    english = System("avoirdupois", "imperial")
    assert read_weighed("2 fl oz", english, liquid=True, where="x").volume_ml == pytest.approx(56.826125)
    assert read_weighed("2 oz avoirdupois", english, liquid=True, where="x").grams == pytest.approx(
        56.69904625
    )
    with pytest.raises(Refused, match="a weight or a measure"):
        read_weighed("2 oz", english, liquid=True, where="x")


def test_an_ounce_of_water_is_a_fluid_ounce():
    amount, made_up = read_water("to 20 ozs.", System("avoirdupois", "imperial"), where="x")
    assert amount.volume_ml == pytest.approx(568.26125)
    assert made_up
    with pytest.raises(Refused, match="whose measure"):
        read_water("20 oz", System("avoirdupois", None), where="x")


def test_a_word_in_the_text_goes_before_the_books_own_system():
    english = System("avoirdupois", "imperial")
    assert read_weighed("1 oz apothecaries", english, liquid=False, where="x").grams == pytest.approx(
        31.1034768
    )
    assert read_water("1 US pint", english, where="x")[0].volume_ml == pytest.approx(473.176473)


def test_parts_are_read_only_where_the_book_prints_in_parts():
    assert read_weighed("8 parts", System(parts=True), liquid=False, where="x").grams == 8
    with pytest.raises(Refused, match="parts"):
        read_weighed("8 parts", System(), liquid=False, where="x")


def test_the_formula_in_the_manual_is_one(mine):
    manual = (Path(__file__).parents[2] / "docs/command-line.md").read_text(encoding="utf-8")
    block = manual[manual.index('    title = "') : manual.index("A book's second column")]
    text = "\n".join(line.removeprefix("    ") for line in block.splitlines())
    assert [part.salt.name for part in read_formula(mine(text)).solutions[0].parts][1] == "pyrogallol"


# --- what is shipped ---


@pytest.mark.parametrize("name", sorted(shipped_formulas()))
def test_a_shipped_formula_makes_a_card_and_says_where_it_comes_from(name):
    formula = shipped_formula(name)
    card = mixing_card(formula, 500)
    assert len(formula.source) > 20
    assert card.cautions[-1] == "Follow the safety data sheet and local rules."
    if formula.has_metric_column:
        assert mixing_card(formula, 500, column="metric").solutions


def test_no_shipped_formula_holds_what_is_forbidden():
    folder = Path(__file__).parents[2] / "firmware_py/data/formulas"
    text = " ".join(path.read_text(encoding="utf-8").lower() for path in folder.glob("*.toml")).split()
    assert not set(FORBIDDEN) & {word.strip('".,;:()') for word in text}


def test_an_unknown_formula_is_refused_with_the_nearest_names():
    with pytest.raises(Refused, match="pyro-soda"):
        shipped_formula("piro-soda")
    with pytest.raises(Refused, match="mix --list"):
        shipped_formula("zzz")
