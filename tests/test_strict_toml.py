"""Files a person wrote: read whole, or refused in one line with place, finding and rule."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.settings import Settings, read_settings
from firmware_py.strict_toml import read_toml_text

GOOD = """
[bench]
name = "north shed"
pins = "mock"

[relay.safelight]
pin = 17

[relay.printing-lamp]
pin = 22
longest_on = "120 s"

[probe.developer]
serial = "28-0123456789ab"
place = "tray 1"
tolerance = "0.5 K"

[foot-switch]
body = "gpio"
pin = 5
debounce = "20 ms"
"""


def test_a_good_file_is_read_with_its_units():
    """Times and temperatures arrive as plain numbers."""
    settings = read_toml_text(GOOD, Settings, where="bench.toml")
    assert settings.relay["printing-lamp"].longest_on == 120.0
    assert settings.foot_switch.debounce == pytest.approx(0.02)
    assert settings.probe["developer"].tolerance == 0.5


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (("longest_on", "longest_no"), ["line 11", "relay", "longest_no", "did you mean `longest_on`?"]),
        (('"120 s"', '"2 hours"'), ["longest_on", "7200 s", "allowed: 0.01 s to 3600 s"]),
        (('"120 s"', '"120 degC"'), ["longest_on", "120 degC"]),
        (('"120 s"', "120"), ["longest_on", "with a unit"]),
        (("pin = 22", "pin = 99"), ["pin", "<= 27"]),
        (("pin = 22", "pin = 17"), ["relay printing-lamp and relay safelight both use pin 17"]),
        (("28-0123456789ab", "28-xyz"), ["serial", "28-xyz"]),
        (("[relay.printing-lamp]", "[relay.white-lamp]"), ["white-lamp"]),
        (('"mock"', '"fast"'), ["pins", "fast"]),
        (("[bench]", "[bench"), ["is not TOML"]),
        (('place = "tray 1"', 'place = "tray 9"'), ["place"]),
    ],
)
def test_a_wrong_file_is_refused_in_one_line_with_its_place(change: tuple[str, str], words: list[str]):
    """File, key, what was found, what is allowed."""
    assert change[0] in GOOD
    with pytest.raises(Refused) as caught:
        read_toml_text(GOOD.replace(*change), Settings, where="bench.toml")
    line = caught.value.line
    assert line.startswith("bench.toml")
    assert "\n" not in line
    for word in words:
        assert word in line


class Row(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    size: int = 0
    inner: dict[str, int] = {}


class Table(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    row: list[Row]


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("[[row]]\nsize = 1\n\n[[row]]\nsize = 'x'\n", r"line 5, key `row\[1\].size`"),
        ("[[row]]\nsize = 1\n[[row]]\n[row.inner]\na = 'x'\n", r"line [345], key `row\[1\].inner"),
        ("[[row]]\nsize = 1\n[[row]]\nsise = 1\n", r"line 4, key `row\[1\].sise`.*did you mean `size`"),
        ("[[row]]\n[[row]]\ninner = { a = 'x' }\n", r"line 3, key"),
    ],
)
def test_the_line_of_a_fault_is_that_of_its_own_entry_among_many(text: str, words: str):
    """The third step of a routine, not the first with such a key."""
    with pytest.raises(Refused, match=words):
        read_toml_text(text, Table, where="t.toml")


def test_a_missing_file_is_refused_by_its_name(tmp_path: Path):
    """Never a silent default where a file was named."""
    with pytest.raises(Refused, match=r"nowhere\.toml: cannot be read"):
        read_settings(tmp_path / "nowhere.toml")


@given(st.text(max_size=300))
def test_no_text_at_all_does_more_than_be_refused(text: str):
    """Any text is either settings or one line of refusal."""
    said = ""
    try:
        read_toml_text(text, Settings, where="bench.toml")
    except Refused as refusal:
        said = refusal.line
    assert "\n" not in said


def test_a_file_without_end_is_refused_and_not_swallowed():
    """A device claims to be empty and never ends."""
    with pytest.raises(Refused, match="it is no plain file"):
        read_settings(Path("/dev/zero"))
