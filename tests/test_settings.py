"""The bodies that bench.toml can name: each with its own keys, and none with those of another."""

from typing import get_args, get_origin

import msgspec
import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.settings import Settings, read_settings
from firmware_py.strict_toml import read_toml_text

GOOD = """
[probe.stream]
body = "serial-lines"
port = "/dev/serial/by-id/usb-shed-1"
baud = 19200
unit = "degF"
pattern = "T1={} F"
answers_within = "3 s"

[probe.asked]
body = "serial-query"
place = "jacket"
port = "/dev/ttyUSB1"
query = "MEAS:TEMP? 1"
instrument = "Cold Shore"

[light-sensor]
body = "serial-lines"
port = "/dev/ttyUSB2"
full = 900.0
dark = 20.0
exposures_from = "30 s"

[foot-switch]
body = "usb"
device = "/dev/input/by-id/usb-pedal-event-kbd"
key = "KEY_B"
"""


def read(text):
    return read_toml_text(text, Settings, where="bench.toml")


def test_each_body_has_its_keys():
    settings = read(GOOD)
    assert settings.probe["stream"].answers_within == 3.0
    assert settings.probe["stream"].wire == "/dev/serial/by-id/usb-shed-1"
    assert settings.probe["asked"].query == "MEAS:TEMP? 1"
    assert settings.foot_switch.key == "KEY_B"


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (('port = "/dev/ttyUSB1"\n', ""), "a `port`, such as"),
        (('"/dev/ttyUSB1"', '"ttyUSB1"'), "port"),
        (('"/dev/ttyUSB1"', '"/dev/serial/by-id/usb-shed-1"'), "stream and asked are both /dev/serial"),
        (('body = "serial-lines"', 'body = "by-hand"'), "a `port`, such as"),
        (('"serial-query"', '"serial-lines"'), "`query` is for serial-query, and the body is serial-lines"),
        (("T1={} F", "T1="), "written {} and stands once"),
        (("T1={} F", "{}{}"), "written {} and stands once"),
        (('"degF"', '"Reaumur"'), "allowed: K, degC, degF"),
        (("19200", "50"), ">= 300"),
        (('"3 s"', '"9 s"'), "allowed: 0.02 s to 4 s"),
        (('"MEAS:TEMP? 1"', '"MEAS\\n"'), "query"),
        (('body = "usb"\n', ""), "a `device`"),
        (("KEY_B", "B"), "key"),
        (('"/dev/ttyUSB2"', '"/dev/ttyUSB1"'), "light sensor and probe asked are on one port"),
        (("full = 900.0", "full = 20.0"), "`full` is what the sensor shows"),
        (("full = 900.0", ""), "`full` is what the sensor shows"),
        (('"30 s"', '"2 s"'), "allowed: 5 s to 3600 s"),
        (('body = "usb"\ndevice = "/dev/input/by-id/usb-pedal-event-kbd"', ""), "`key` is for usb"),
    ],
)
def test_what_can_not_be_meant_is_refused_in_one_line(change, words):
    assert change[0] in GOOD
    with pytest.raises(Refused) as caught:
        read(GOOD.replace(*change))
    assert words in caught.value.line
    assert "\n" not in caught.value.line


NO_NUMBERS = ("nan", "inf", "-inf", "9" * 400, '"nan s"', '"inf degC"', f'"{"9" * 400} s"', '[["0 s", nan]]')


def all_keys():
    """Return every key of every table of a bench.toml that takes a number, with its table's name."""
    for table in msgspec.structs.fields(Settings):
        kinds = [kind for kind in (table.type, *get_args(table.type)) if isinstance(kind, type)]
        sections = [kind for kind in kinds if issubclass(kind, msgspec.Struct)]
        name = f"{table.name}.{'safelight' if table.name == 'relay' else 'developer'}"
        for section in sections:
            for key in msgspec.structs.fields(section):
                plain = get_origin(table.type) is not dict
                yield table.name if plain else name, key.encode_name, "str" in repr(key.type)


@pytest.mark.parametrize(("table", "key", "is_text"), list(all_keys()))
def test_what_is_no_finite_number_is_refused_wherever_a_number_is_wanted(tmp_path, table, key, is_text):
    path = tmp_path / "bench.toml"
    for value in NO_NUMBERS:
        if is_text and value.startswith('"'):
            continue
        path.write_text(f"[{table}]\n{key} = {value}\n", encoding="utf-8")
        with pytest.raises(Refused) as refused:
            read_settings(path)
        assert "\n" not in refused.value.line


@pytest.mark.parametrize("key", ["state", "socket", "pin_record", "routines", "formulas", "marks"])
@pytest.mark.parametrize("value", ["", "a\\u0000b", "x" * 300, "a/" * 200])
def test_a_path_that_names_nothing_is_refused(tmp_path, key, value):
    path = tmp_path / "bench.toml"
    path.write_text(f'[bench]\n{key} = "{value}"\n', encoding="utf-8")
    # A zero sign is refused before the keys are read.
    with pytest.raises(Refused, match="has a zero sign" if "u0000" in value else f"bench.{key}"):
        read_settings(path)
