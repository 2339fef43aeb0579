"""``embertray mix`` prints the card of a shipped formula or of one's own, or says why it can not."""

import json

import pytest

from tui.cli import main

# for each shipped formula: a salt of it, and the grams in a litre as the print's own figures come to
SHIPPED = {
    "chrome-alum-fixer": ("chrome alum", 6.0),
    "ferricyanide-reducer": ("potassium ferricyanide", None),
    "hydroquinone-caustic": ("hydroquinone", 18.24 / 2),
    "metol-hydroquinone": ("metol", 5.70),
    "paper-metol-hydroquinone": ("hydroquinone", 3.6),
    "plain-hypo": ("sodium thiosulphate pentahydrate", 249.4),
    "pyro-soda": ("pyrogallol", 6.84),
    "pyro-soda-hurter-driffield": ("pyrogallol", 8.0),
    "stop-bath": ("acetic acid", None),
}


def card(capsys, *words):
    assert main(["mix", *words, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def grams(card):
    return {part["salt"]: part["grams"] for solution in card["solutions"] for part in solution["parts"]}


@pytest.mark.parametrize("name", SHIPPED)
def test_every_shipped_formula_is_mixed(name, capsys):
    salt, in_a_litre = SHIPPED[name]
    made = card(capsys, name, "--make", "500ml")
    assert made["make_ml"] == 500
    part = next(p for solution in made["solutions"] for p in solution["parts"] if p["salt"] == salt)
    assert (part["grams"] or part["measure_ml"]) > 0
    if in_a_litre is not None:
        assert grams(made)[salt] == pytest.approx(in_a_litre / 2, rel=0.001)
    assert "Follow the safety data sheet and local rules." in made["cautions"]


def test_the_list_names_every_formula(capsys):
    assert main(["mix", "--list"]) == 0
    listed = [line.split()[0] for line in capsys.readouterr().out.splitlines()]
    assert sorted(listed) == sorted(SHIPPED)
    assert main(["mix", "--list", "--json"]) == 0
    assert sorted(one["formula"] for one in json.loads(capsys.readouterr().out)) == sorted(SHIPPED)


def test_the_two_columns_of_a_book_are_kept_apart(capsys):
    printed = grams(card(capsys, "metol-hydroquinone", "--make", "1l"))
    metric = grams(card(capsys, "metol-hydroquinone", "--make", "1l", "--as", "metric"))
    assert printed["metol"] == pytest.approx(5.70, abs=0.005)
    assert metric["metol"] == 6


def test_jars_and_balance_at_hand_are_used(capsys):
    made = card(
        capsys,
        *("pyro-soda", "--make", "1 imperial pint", "--have", "sodium carbonate monohydrate"),
        *("--have", "sulphite anhydrous soda", "--balance", "0.01g"),
    )
    assert made["make_ml"] == pytest.approx(568.26125)
    assert made["balance_g"] == 0.01
    used = {part["salt"]: part["instead_of"] for part in made["solutions"][0]["parts"]}
    assert used["sodium carbonate monohydrate"] == "sodium carbonate decahydrate"
    assert used["sodium sulphite anhydrous"] == "sodium sulphite heptahydrate"


def test_the_card_in_words_begins_with_the_cautions_and_names_the_sheets(capsys):
    assert main(["mix", "hydroquinone-caustic", "--make", "500ml"]) == 0
    out = capsys.readouterr().out
    assert "For use: 250 ml of solution 1 + 250 ml of solution 2" in out
    beware = out.index("! Wear goggles and gloves")
    assert beware < out.index("! Follow the safety data sheet and local rules.") < out.index("Begin with")
    assert "hydroquinone: NITE Japan 07-meti-2007e" in out[out.index("Cautions by these data sheets") :]


def test_a_formula_of_ones_own_is_read_from_file(tmp_path, capsys):
    mine = tmp_path / "mine.toml"
    mine.write_text(
        'title = "Mine"\nkind = "fixer"\nsource = "own"\n'
        '[[solution]]\nname = "fixer"\nwater = "1 l"\n[[solution.part]]\nsalt = "hypo"\nprinted = "2 oz"\n',
        encoding="utf-8",
    )
    assert main(["mix", "--file", str(mine), "--make", "1l"]) == 1
    line = capsys.readouterr().err
    assert "which ounce" in line
    assert str(mine) in line
    assert "part 1 (sodium thiosulphate pentahydrate), key `printed`" in line
    mine.write_text(mine.read_text(encoding="utf-8").replace("2 oz", "200 g"), encoding="utf-8")
    assert grams(card(capsys, "--file", str(mine), "--make", "500ml")) == {
        "sodium thiosulphate pentahydrate": 100
    }


def test_without_a_volume_the_card_is_that_of_the_print(capsys):
    made = card(capsys, "hydroquinone-caustic")
    assert made["make_ml"] == pytest.approx(2 * 568.26125)
    assert grams(made)["hydroquinone"] == pytest.approx(160 * 0.06479891)
    assert grams(card(capsys, "ferricyanide-reducer"))["potassium ferricyanide"] == pytest.approx(
        20 * 0.06479891
    )
    assert card(capsys, "pyro-soda", "--as", "metric")["make_ml"] == 1000


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "one formula"),
        (("pyro-soda", "--file", "x.toml", "--make", "1l"), "one formula"),
        (("pyrosoda", "--make", "1l"), "pyro-soda"),
        (("pyro-soda", "--make", "20 oz"), "--make"),
        (("pyro-soda", "--make", "1 pint"), "imperial pint"),
        (("pyro-soda", "--make", "0 ml"), "--make"),
        (("pyro-soda", "--make", "1l", "--have", "metol"), "can be made with metol"),
        (("pyro-soda", "--make", "1l", "--have", "potassium carbonate"), "can be made with"),
        (("pyro-soda", "--make", "1l", "--balance", "0.1"), "--balance"),
        (("plain-hypo", "--make", "1l", "--as", "metric"), "no metric column"),
        (("--file", "none.toml", "--make", "1l"), "none.toml"),
    ],
)
def test_what_can_not_be_mixed_is_refused_in_one_line(words, said, capsys):
    assert main(["mix", *words]) == 1
    captured = capsys.readouterr()
    assert captured.out == ""
    assert said in captured.err
    assert len(captured.err.splitlines()) == 1
