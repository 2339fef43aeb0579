"""The shipped formulas against what the books print, weight by weight, and the books against themselves."""

import pytest

from firmware_py.craft.units import read_mass_g, read_volume_ml
from firmware_py.data.formulary import shipped_formula, shipped_formulas

# Typed from references.md, "Formulas from print" (seen there; three read again in copies: Cassell, "Pyro";
# The Barnet Book, "Development" and "Various developers"). Amounts as printed, water last.
PRINTED: dict[tuple[str, str], dict[str, tuple[str, str | None]]] = {
    ("pyro-soda", "developer"): {
        "pyrogallol": ("30 gr", "7 g"),
        "sodium sulphite": ("240 gr", "55 g"),
        "sodium carbonate": ("240 gr", "55 g"),
        "water": ("10 fl oz imperial", "1000 cc"),
    },
    ("pyro-soda-hurter-driffield", "developer"): {
        "pyrogallol": ("8 g", None),
        "sodium sulphite": ("40 g", None),
        "sodium carbonate": ("40 g", None),
        "water": ("1000 ml", None),
    },
    ("metol-hydroquinone", "developer"): {
        "metol": ("200 gr", "6 g"),
        "sodium sulphite": ("6 oz avoirdupois", "75 g"),
        "hydroquinone": ("150 gr", "4 g"),
        "potassium bromide": ("50 gr", "1.5 g"),
        "potassium carbonate": ("2 oz avoirdupois", "25 g"),
        "water": ("80 fl oz imperial", "1000 cc"),
    },
    ("hydroquinone-caustic", "1"): {
        "sodium sulphite": ("2 oz avoirdupois", "100 g"),
        "hydroquinone": ("160 gr", "18 g"),
        "citric acid": ("60 gr", "6 g"),
        "potassium bromide": ("30 gr", "3 g"),
        "water": ("20 fl oz imperial", "1000 cc"),
    },
    ("hydroquinone-caustic", "2"): {
        "sodium hydroxide": ("160 gr", "18 g"),
        "water": ("20 fl oz imperial", "1000 cc"),
    },
    ("paper-metol-hydroquinone", "developer"): {
        "metol": ("0.9 g", None),
        "hydroquinone": ("3.6 g", None),
        "sodium carbonate": ("20 g", None),
        "sodium sulphite": ("14 g", None),
        "potassium bromide": ("0.5 g", None),
        "water": ("1 l", None),
    },
    ("chrome-alum-fixer", "fixer"): {
        "sodium thiosulphate": ("350 g", None),
        "chrome alum": ("6 g", None),
        "sodium bisulphite": ("10 g", None),
        "water": ("1000 cc", None),
    },
    # The Barnet Book of Photography, "Bromide Paper" (seen): acetic acid 1 dram in 32 oz
    ("stop-bath", "stop bath"): {
        "acetic acid": ("1 fl drachm imperial", None),
        "water": ("32 fl oz imperial", None),
    },
    ("ferricyanide-reducer", "1"): {
        "potassium ferricyanide": ("20 gr", None),
        "water": ("1 fl oz imperial", None),
    },
    ("ferricyanide-reducer", "2"): {
        "sodium thiosulphate": ("1 oz avoirdupois", None),
        "water": ("20 fl oz imperial", None),
    },
    # Cassell's Cyclopaedia, "Fixing" (seen): 4 oz of hypo to 16 oz of water
    ("plain-hypo", "fixer"): {
        "sodium thiosulphate": ("4 oz avoirdupois", None),
        "water": ("16 fl oz imperial", None),
    },
}


def test_every_shipped_solution_is_held_against_print():
    shipped = {(name, one.name) for name, formula in shipped_formulas().items() for one in formula.solutions}
    assert shipped == set(PRINTED)


@pytest.mark.parametrize("key", PRINTED, ids=" ".join)
def test_a_formula_holds_the_printed_weights_and_no_others(key):
    """Exact: the same amounts in the same units."""
    name, solution_name = key
    solution = shipped_formula(name).solution(solution_name)
    rows = dict(PRINTED[key])
    water, water_metric = rows.pop("water")
    assert {part.salt.substance.name for part in solution.parts} == set(rows)
    assert solution.water.volume_ml == pytest.approx(read_volume_ml(water, where="print"))
    for part in solution.parts:
        printed, metric = rows[part.salt.substance.name]
        if part.salt.substance.liquid:
            assert part.printed.volume_ml == pytest.approx(read_volume_ml(printed, where="print"))
            continue
        assert part.printed.grams == pytest.approx(read_mass_g(printed, where="print"))
        assert (part.metric.grams if part.metric else None) == (
            None if metric is None else pytest.approx(read_mass_g(metric, where="print"))
        )
    if water_metric is not None:
        assert solution.water_ml("metric") == pytest.approx(read_volume_ml(water_metric, where="print"))


def test_waters_that_are_printed_as_made_up_to_are_made_up_to():
    """Ives 1920 prints water TO 1000 of his chrome-alum fixer and paper developer: the salts take room."""
    for name in ("chrome-alum-fixer", "paper-metol-hydroquinone"):
        (solution,) = shipped_formula(name).solutions
        assert solution.made_up, name


def test_the_two_pyro_sodas_have_one_coefficient_whose_source_says_whose_it_is():
    """Ives 1920: 1.40 for 7 degC, of a pyro-metol developer with soda."""
    told = {shipped_formula(name).development for name in ("pyro-soda", "pyro-soda-hurter-driffield")}
    assert {one.coefficient for one in told if one} == {"1.40/7K"}
    assert all(one and "not of this one" in one.coefficient_source for one in told)


TWO_COLUMNS = [key for key in PRINTED if PRINTED[key]["water"][1] is not None]


@pytest.mark.parametrize("key", TWO_COLUMNS, ids=" ".join)
def test_the_two_columns_agree_as_far_as_their_digits_go(key):
    """Within 3 % or 0.9 g, whichever is more: citric acid is printed 6 g for 60 gr, which is 6.84 g."""
    solution = shipped_formula(key[0]).solution(key[1])
    for part in solution.parts:
        per_litre = (part.printed.grams or 0) / solution.water_ml("printed") * 1000
        metric = (part.amount("metric").grams or 0) / solution.water_ml("metric") * 1000
        assert abs(per_litre - metric) <= max(0.9, 0.03 * metric), part.salt.name


@pytest.mark.parametrize(
    ("ounces", "fluid_ounces", "grams_in_a_litre"),
    [(6, 80, 75), (2, 80, 25), (2, 20, 100), (4, 16, 250)],
)
def test_the_ounces_of_the_books_are_avoirdupois_by_their_own_metric_columns(
    ounces, fluid_ounces, grams_in_a_litre
):
    """Barnet Book and Cassell ("25 per cent"): avoirdupois within 0.5 %, apothecaries off by 9 %."""
    water_ml = read_volume_ml(f"{fluid_ounces} fl oz imperial", where="print")
    for name, error in (("avoirdupois", 0.005), ("apothecaries", 0.12)):
        in_a_litre = read_mass_g(f"{ounces} oz {name}", where="print") / water_ml * 1000
        assert abs(in_a_litre / grams_in_a_litre - 1) < error
        assert (abs(in_a_litre / grams_in_a_litre - 1) < 0.05) == (name == "avoirdupois")
