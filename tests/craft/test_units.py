"""What a person writes is read exactly, or refused with one line that names the field."""

import math
import subprocess
import sys

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from firmware_py.craft import units
from firmware_py.craft.refusal import Refused
from firmware_py.craft.saying import say_mass, say_temperature, say_time, say_volume

READERS = [
    units.read_time_s,
    units.read_temperature_degC,
    units.read_difference_K,
    units.read_mass_g,
    units.read_volume_ml,
    units.read_length_mm,
    units.read_area_cm2,
    units.read_number,
    units.kind_of,
]


@pytest.mark.parametrize(
    ("text", "time_s"),
    [
        ("7 min 30 s", 450),
        ("6min", 360),
        ("90s", 90),
        ("1h 5min", 3900),
        ("1h5min", 3900),
        ("7:30", 450),
        ("7:30.5", 450.5),
        ("1:05:00", 3900),
        ("2 1/2 min", 150),
        ("2½ min", 150),
        ("½ min", 30),
        ("0.5 minutes", 30),
        ("8 days", 691200),
        (" 12 SEC ", 12),
        ("1.5e1 s", 15),
    ],
)
def test_a_time_is_read_as_it_is_spoken(text, time_s):
    assert units.read_time_s(text, where="step") == time_s


@pytest.mark.parametrize(
    ("text", "bath_degC"),
    [
        ("20 degC", 20),
        ("20degC", 20),
        ("20 °C", 20),
        ("20 ℃", 20),
        ("20 deg C", 20),
        ("20 degrees Celsius", 20),
        ("68 degF", 20),
        ("68°F", 20),
        ("295 K", 21.85),
        ("16 °Re", 20),
        ("−5 degC", -5),
    ],
)
def test_a_temperature_is_read_in_every_scale(text, bath_degC):
    assert units.read_temperature_degC(text, where="bath") == pytest.approx(bath_degC, abs=1e-9)


@pytest.mark.parametrize(
    ("read", "text", "expected"),
    [
        (units.read_mass_g, "1 drachm 20 grains", 80 * 0.06479891),
        (units.read_mass_g, "2 1/2 oz avoirdupois", 2.5 * 437.5 * 0.06479891),
        (units.read_mass_g, "1 oz. apoth.", 480 * 0.06479891),
        (units.read_mass_g, "250 mg", 0.25),
        (units.read_volume_ml, "1 pint 5 fl oz", None),
        (units.read_volume_ml, "1 imperial pint 5 imperial fl oz", 25 * 28.4130625),
        (units.read_volume_ml, "20 fl. oz. imperial", 568.26125),
        (units.read_volume_ml, "8 U.S. fl oz", 236.5882365),
        (units.read_volume_ml, "5 c.c.", 5),
        (units.read_volume_ml, "1.2l", 1200),
        (units.read_length_mm, "6 1/2 in", 165.1),
        (units.read_length_mm, "1 ft 2 in", 355.6),
        (units.read_area_cm2, "4 3/4 x 6 1/2 in", 4.75 * 6.5 * 6.4516),
        (units.read_area_cm2, "9x12cm", 108),
        (units.read_area_cm2, "30 sq. in.", 30 * 6.4516),
        (units.read_number, "2 1/2", 2.5),
        (units.read_number, "1/3", 1 / 3),
        (units.read_number, "-1e3", -1000),
        (units.read_difference_K, "0.5 K", 0.5),
        (units.read_difference_K, "-9 delta_degF", -5),
    ],
)
def test_the_trades_quantities_are_read(read, text, expected):
    if expected is None:
        with pytest.raises(Refused):
            read(text, where="field")
        return
    assert read(text, where="field") == pytest.approx(expected, rel=1e-12)


@pytest.mark.parametrize(
    ("read", "text", "said"),
    [
        (units.read_time_s, "90", "has no unit"),
        (units.read_time_s, "-3 s", "must not be negative"),
        (units.read_time_s, "5 m", '"m" is the metre, "min" the minute'),
        (units.read_time_s, "5 g", "is a mass"),
        (units.read_time_s, "5 fortnights", 'the unit "fortnights"'),
        (units.read_time_s, "5 s 3 min", "from the largest down"),
        (units.read_time_s, "1:60:00", "more than 59 minutes"),
        (units.read_time_s, "1/0 s", "divides by zero"),
        (units.read_time_s, "1e15 years", "larger than any"),
        (units.read_time_s, "nan s", "is not a time"),
        (units.read_time_s, "inf", "is not a time"),
        (units.read_time_s, "", "is not a time"),
        (units.read_time_s, "9**9**9 s", "is not a time"),
        (units.read_time_s, "1" * 90 + " s", "longer than 80"),
        (units.read_temperature_degC, "20", "has no unit"),
        (units.read_temperature_degC, "5 delta_degC", "is a difference of temperature"),
        (units.read_temperature_degC, "-300 degC", "is no temperature"),
        (units.read_temperature_degC, "20 min", "is not known"),
        (units.read_difference_K, "0.5 degC", "a temperature, not a difference"),
        (units.read_mass_g, "2 oz", '"oz avoirdupois" (437.5 gr'),
        (units.read_mass_g, "1 dram", "apothecaries'"),
        (units.read_mass_g, "5 Mg", "is not known"),
        (units.read_volume_ml, "2 oz", '"imperial fl oz"'),
        (units.read_volume_ml, "10 oz fluid", '"US fl oz"'),
        (units.read_volume_ml, "1 pint", '"imperial pint" (568.3 ml) or "US pint" (473.2 ml)'),
        (units.read_volume_ml, "30 minims", '"US minim"'),
        (units.read_volume_ml, "1 tablespoon", "is not known"),
        (units.read_number, "two", "is not a number"),
    ],
)
def test_a_doubtful_quantity_is_refused_with_field_text_and_rule(read, text, said):
    with pytest.raises(Refused) as refused:
        read(text, where="formula.water")
    line = str(refused.value)
    assert said in line
    assert line.startswith("formula.water: ")
    assert text[:30] in line
    assert "; allowed: " in line


def test_a_number_outside_its_limits_is_refused():
    with pytest.raises(Refused, match="allowed: 1 to 100"):
        units.read_number("0.5", where="factor", low=1, high=100)


def test_no_control_character_of_the_text_reaches_the_line():
    with pytest.raises(Refused) as refused:
        units.read_time_s("\x1b[32m5\x07\n\u202e min", where="step")
    assert str(refused.value).isprintable()


def test_kinds_are_told_apart():
    assert [units.kind_of(t, where="w") for t in ("3 g", "30 minims imp", "2 min", "9 mm", "5 cm2")] == [
        "mass",
        "volume",
        "time",
        "length",
        "area",
    ]


hostile = st.one_of(
    st.text(max_size=100),
    st.from_regex(r"[0-9 .eE/*+x:-]{0,12}(s|min|degC|oz|g|ml|K|in)?[0-9 ()*^]{0,6}", fullmatch=True),
)


@settings(max_examples=100, deadline=None)
@given(text=hostile)
def test_hostile_text_gives_a_finite_number_or_a_refusal(text):
    for read in READERS:
        try:
            value: object = read(text, where="field")
        except Refused as refused:
            value = str(refused)
        assert value.isprintable() if isinstance(value, str) else math.isfinite(float(str(value)))


@settings(max_examples=60, deadline=None)
@given(time_s=st.integers(min_value=0, max_value=10**6))
def test_a_time_said_can_be_read_again(time_s):
    assert units.read_time_s(say_time(time_s), where="said") == time_s


@settings(max_examples=60, deadline=None)
@given(value=st.floats(min_value=0.001, max_value=1e5), unit=st.sampled_from(["g", "gr", "drachm", "kg"]))
def test_a_mass_said_can_be_read_again(value, unit):
    said = say_mass(value, unit, figures=7)
    assert units.read_mass_g(said, where="said") == pytest.approx(value, rel=2e-6)


@pytest.mark.parametrize(
    ("time_s", "said"),
    [
        (0, "0 s"),
        (0.25, "0.25 s"),
        (4.5, "4.5 s"),
        (12.34, "12.3 s"),
        (59.96, "1 min"),
        (225, "3 min 45 s"),
        (507.5, "8 min 28 s"),
        (3900, "1 h 5 min"),
        (-5, "-5 s"),
    ],
)
def test_times_are_said_as_a_person_would(time_s, said):
    assert say_time(time_s) == said


def test_quantities_are_said_in_the_unit_chosen():
    assert say_temperature(20, "degF") == "68 °F"
    assert say_temperature(16.06) == "16.1 °C"
    assert say_mass(1.9439673, "gr") == "30 gr"
    assert say_volume(568.26125, "imperial pint") == "1 imperial pint"
    assert say_volume(12345.6) == "12346 ml"
    assert say_mass(0) == "0 g"


def test_saying_in_an_ambiguous_unit_is_refused():
    with pytest.raises(Refused):
        say_mass(10, "oz")
    with pytest.raises(Refused):
        say_temperature(20, "R")


def test_a_start_needs_no_registry():
    """Everyday words are read without pint, which costs half a second on a small board."""
    program = (
        "import sys; from firmware_py.craft import units as u;"
        "u.read_time_s('1 h 5 min 3 s', where='');u.read_temperature_degC('68 degF', where='');"
        "u.read_difference_K('0.5 K', where='');u.read_volume_ml('1 l', where='');"
        "u.read_mass_g('1 g', where=''); u.read_length_mm('3 cm', where=''); sys.exit('pint' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", program], check=False).returncode == 0
