"""A salt is known by any of its names, and swapped for another without losing a molecule of what it does."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.craft.salts import Salt, every_salt, instead_of, salt_named, same_work_as
from firmware_py.craft.shelf import SHELF

SALTS = st.sampled_from(every_salt())
GRAMS = st.floats(min_value=0.001, max_value=100_000)


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("hypo", "sodium thiosulphate pentahydrate"),
        ("Hypo, anhydrous", "sodium thiosulphate anhydrous"),
        ("hyposulphite of soda", "sodium thiosulphate pentahydrate"),
        ("washing soda", "sodium carbonate decahydrate"),
        ("Sal Soda", "sodium carbonate decahydrate"),
        ("soda ash", "sodium carbonate anhydrous"),
        ("carbonate of soda (cryst.)", "sodium carbonate decahydrate"),
        ("soda sulphite cryst.", "sodium sulphite heptahydrate"),
        ("Sodium Sulfite, desiccated", "sodium sulphite anhydrous"),
        ("pyro", "pyrogallol"),
        ("pyrogallic acid", "pyrogallol"),
        ("4-(methylamino)phenol sulfate", "metol"),
        ("quinol", "hydroquinone"),
        ("bromide of potassium", "potassium bromide"),
        ("caustic soda", "sodium hydroxide"),
        ("caustic potash", "potassium hydroxide"),
        ("carbonate of potash", "potassium carbonate anhydrous"),
        ("metabisulphite of potash", "potassium metabisulphite"),
        ("red prussiate of potash", "potassium ferricyanide"),
        ("potassium ferricyanide", "potassium ferricyanide"),
        ("borax", "borax decahydrate"),
    ],
)
def test_a_salt_is_known_by_its_old_and_its_modern_names(text, name):
    assert salt_named(text).name == name


def test_every_salt_is_found_by_every_one_of_its_names():
    for salt in every_salt():
        assert salt_named(salt.name) == salt
        for name in salt.substance.names:
            assert salt_named(f"{name} {salt.form}".strip()) == salt
    for substance in SHELF:
        for name, form in substance.formed.items():
            assert salt_named(name) == Salt(substance, form)


def test_no_name_stands_for_two_substances():
    names = [name.lower() for one in SHELF for name in (one.name, *one.names, *one.formed)]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    "text", ["sodium carbonate", "sulphite of soda", "sodium thiosulphate", "citric acid"]
)
def test_a_name_that_leaves_the_hydrate_open_is_refused_with_the_choices(text):
    with pytest.raises(Refused, match=r"does not say which form; allowed: .*anhydrous, .*hydrate"):
        salt_named(text)


def test_a_form_that_does_not_exist_is_refused():
    with pytest.raises(Refused, match="no such form"):
        salt_named("sodium carbonate heptahydrate")
    with pytest.raises(Refused, match="no such form"):
        salt_named("anhydrous hypo crystals")


def test_an_unknown_salt_is_refused_with_the_names_spelled_most_like_it():
    with pytest.raises(Refused, match="sodium sulphite"):
        salt_named("sodium sulphight")
    with pytest.raises(Refused, match="manual"):
        salt_named("xyzzy")


@pytest.mark.parametrize(
    "text",
    [
        "potassium cyanide",
        "mercuric chloride",
        "uranium nitrate",
        "bichromate of potash",
        "Potassium Dichromate",
    ],
)
def test_what_is_too_dangerous_is_refused_and_nothing_is_offered_instead(text):
    with pytest.raises(Refused, match="danger") as refused:
        salt_named(text)
    assert refused.value.allowed == ""


def test_an_endless_name_is_refused_unread():
    with pytest.raises(Refused, match="at most 80"):
        salt_named("soda " * 1000)


@given(text=st.text(max_size=90))
@settings(max_examples=100)
def test_any_text_is_a_salt_or_a_refusal_of_one_line(text):
    try:
        found, line = salt_named(text), ""
    except Refused as refused:
        found, line = every_salt()[0], str(refused)
    assert found in every_salt()
    assert len(line.splitlines()) <= 1


@given(grams=GRAMS, salt=SALTS, data=st.data())
@settings(max_examples=60)
def test_a_swap_there_and_back_returns_the_same_grams(grams, salt, data):
    other = data.draw(st.sampled_from(same_work_as(salt)))
    there = instead_of(grams, salt, other).grams
    assert instead_of(there, other, salt).grams == pytest.approx(grams, rel=1e-12)


@given(grams=GRAMS, salt=SALTS)
@settings(max_examples=30)
def test_the_dry_form_always_weighs_least(grams, salt):
    dry = Salt(salt.substance, next(iter(salt.substance.forms)))
    assert instead_of(grams, salt, dry).grams <= grams * (1 + 1e-12)


def test_a_salt_of_another_metal_brings_a_remark_and_a_hydrate_does_not():
    washing_soda = salt_named("washing soda")
    assert instead_of(1, washing_soda, salt_named("soda ash")).remark == ""
    assert "Another metal" in instead_of(1, washing_soda, salt_named("carbonate of potash")).remark


@pytest.mark.parametrize(
    ("wanted", "have"),
    [
        ("pyro", "metol"),
        ("washing soda", "baking soda"),
        ("soda ash", "caustic soda"),
        ("potassium bromide", "ammonium bromide"),
        ("ferricyanide", "yellow prussiate of potash"),
    ],
)
def test_salts_that_do_different_work_are_not_swapped(wanted, have):
    with pytest.raises(Refused, match="can not do the work of"):
        instead_of(1, salt_named(wanted), salt_named(have))


@pytest.mark.parametrize("grams", [-1, float("nan"), float("inf")])
def test_grams_that_nobody_can_weigh_are_refused(grams):
    hypo = salt_named("hypo")
    with pytest.raises(Refused, match="0 g or more"):
        instead_of(grams, hypo, hypo)
