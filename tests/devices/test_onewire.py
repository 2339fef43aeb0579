"""The 1-Wire probe in conversation with the kernel's file: only a proved answer is a reading."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from firmware_py.craft.refusal import Refused
from firmware_py.devices.onewire import OneWireProbe, crc8, read_w1_slave
from firmware_py.devices.probe import NoReading, Reading
from tests.devices.w1_folder import SERIAL, W1Folder, scratchpad, w1_slave

GOOD = scratchpad(20.0)


@pytest.fixture
def folder(tmp_path):
    return W1Folder(tmp_path)


@pytest.fixture
def probe(tmp_path):
    return OneWireProbe("tray", SERIAL, folder=tmp_path)


@given(st.integers(-55 * 16, 125 * 16).filter(lambda raw: raw != 85 * 16))
def test_every_temperature_the_probe_can_say_is_read_to_the_sixteenth(raw):
    assert read_w1_slave(w1_slave(scratchpad(raw / 16)), "28") == raw / 16


@given(st.integers(-120, 160), st.integers(0, 16))
def test_a_probe_of_the_older_family_is_read_with_its_remainder(halves, remain):
    eight = (halves & 0xFFFF).to_bytes(2, "little") + bytes([0x4B, 0x46, 0xFF, 0xFF, remain, 16])
    nine = eight + bytes([crc8(eight)])
    expected = (halves >> 1) - 0.25 + (16 - remain) / 16
    assert read_w1_slave(w1_slave(nine, thousandths=int(expected * 1000)), "10") == expected


@given(st.integers(0, 71), st.floats(-5.0, 60.0))
def test_any_flipped_bit_is_found_even_if_the_kernel_says_yes(bit, bath_degC):
    whole = bytearray(scratchpad(bath_degC))
    whole[bit // 8] ^= 1 << bit % 8
    with pytest.raises(Refused, match="checksum"):
        read_w1_slave(w1_slave(bytes(whole)), "28")


@pytest.mark.parametrize(
    ("text", "word"),
    [
        ("", "unreadable"),
        ("hello", "unreadable"),
        (w1_slave(GOOD)[:40], "unreadable"),
        (w1_slave(GOOD)[:-2], "contradict"),
        (w1_slave(GOOD).splitlines()[0] + "\n", "unreadable"),
        (w1_slave(GOOD) * 2, "unreadable"),
        (w1_slave(GOOD).replace("t=20000", "t=lots"), "unreadable"),
        (w1_slave(GOOD, verdict="NO"), "checksum is wrong"),
        (w1_slave(bytes(9)), "short circuit"),
        (w1_slave(bytes([0xFF] * 9)), "checksum is wrong"),
        (w1_slave(scratchpad(85.0)), "before it has measured"),
        (w1_slave(GOOD, kept=scratchpad(21.0)), "contradict"),
        (w1_slave(GOOD, thousandths=21000), "contradict"),
        (w1_slave(scratchpad(70.0)), "70.0 degC is not the temperature of a bath"),
        (w1_slave(scratchpad(-10.125)), "-10.1 degC is not the temperature of a bath"),
        ("\xff\xfe" * 30, "not text"),
        ("5" * 100_000, "unreadable"),
    ],
)
def test_an_answer_that_proves_nothing_is_no_reading(folder, probe, text, word):
    folder.write(text)
    answer = probe.read(5.0)
    assert isinstance(answer, NoReading)
    assert word in answer.why
    assert "\n" not in answer.why


@given(st.text(max_size=120) | st.binary(max_size=120).map(lambda data: data.decode("latin-1")))
def test_no_text_does_more_than_be_refused(text):
    with pytest.raises(Refused):
        read_w1_slave(text, "28")


def test_a_probe_that_vanishes_gives_no_reading_and_one_that_returns_reads_again(folder, probe):
    missing = probe.read(1.0)
    assert isinstance(missing, NoReading)
    assert "no probe 28-0123456789ab on the bus" in missing.why
    folder.show(18.5)
    assert probe.read(2.0) == Reading(18.5, 0.5, 2.0)
    folder.unplug()
    assert isinstance(probe.read(3.0), NoReading)
    folder.show(18.4375)
    assert probe.read(4.0) == Reading(18.4375, 0.5, 4.0)


def test_a_folder_in_the_place_of_the_file_is_no_reading(folder, probe):
    folder.file.mkdir(parents=True)
    answer = probe.read(1.0)
    assert isinstance(answer, NoReading)
    assert "Is a directory" in answer.why


def test_the_offset_found_in_ice_is_added(folder, tmp_path):
    folder.show(20.0)
    probe = OneWireProbe("tray", SERIAL, folder=tmp_path, offset_K=-0.25, tolerance_K=0.1)
    assert probe.read(1.0) == Reading(19.75, 0.1, 1.0)


@pytest.mark.parametrize(
    "serial", ["", "28", "3b-0123456789ab", "28-0123456789AB", "../28-0123456789ab", "28-01234"]
)
def test_a_serial_that_is_no_thermometer_is_refused(serial):
    with pytest.raises(Refused, match="28-0123456789ab"):
        OneWireProbe("tray", serial)
