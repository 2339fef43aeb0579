"""Thermometers on a serial port, in conversation with a scripted instrument; only the plain is believed."""

import threading
from itertools import count

import pytest

from firmware_py.craft.refusal import Refused
from firmware_py.devices.clock import BootClock
from firmware_py.devices.instrument_text import NumberPattern
from firmware_py.devices.light_sensor import Light, NoLight
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.devices.serial_light_sensor import SerialLightSensor
from firmware_py.devices.serial_lines_probe import SerialLinesProbe
from firmware_py.devices.serial_query_probe import SerialQueryProbe
from tests.devices.instruments import NAME, Instrument, polite

# Long enough for a busy machine where an answer is wanted, short where none comes.
PATIENT_S, BRIEF_S = 10.0, 0.05


@pytest.fixture
def instrument(tmp_path):
    instrument = Instrument(tmp_path / "port")
    yield instrument
    instrument.unplug()


@pytest.fixture
def opened():
    probes: list[SerialLinesProbe | SerialQueryProbe | SerialLightSensor] = []
    yield probes
    for probe in probes:
        probe.close()


@pytest.fixture
def lines(instrument, opened):
    def make(within_s=PATIENT_S, **settings):
        probe = SerialLinesProbe(
            "bath", str(instrument.path), BootClock(), answers_within_s=within_s, **settings
        )
        opened.append(probe)
        return probe

    return make


@pytest.fixture
def query(instrument, opened):
    def make(within_s=PATIENT_S, **settings):
        probe = SerialQueryProbe(
            "bath", str(instrument.path), BootClock(), answers_within_s=within_s, **settings
        )
        opened.append(probe)
        return probe

    return make


# --- the text of a line ---


@pytest.mark.parametrize(
    ("pattern", "line", "number"),
    [
        ("{}", b"20.5", 20.5),
        ("{}", b"  +20,5 \xb0C", 20.5),
        ("{}", b"T: -1.25 \xc2\xb0C", -1.25),
        ("{}", b"+2.00000000E+01", 20.0),
        ("{}", b"20", 20.0),
        ("{}", b"20.", 20.0),
        ("{}", b"T1 20.0", 20.0),
        ("{}", b"12:30:05 T:20.0C", 20.0),
        ("T2={} C", b"T1=18.0 C;T2=21.5 C", 21.5),
        ("T={}", b"t=3 T=21", 21.0),
        ("bath {}", b"bath    19.9", 19.9),
        ("{}C", b"55%RH 21.0C", 21.0),
    ],
)
def test_the_number_stands_where_the_pattern_says(pattern, line, number):
    assert NumberPattern(pattern).read(line) == number


@pytest.mark.parametrize(
    ("pattern", "line", "word"),
    [
        ("{}", b"", "no number"),
        ("{}", b"ready", "no number"),
        ("{}", b"20.0 21.0", "more than one number"),
        ("{}", b"2021-05-06", "no number"),
        ("{}", b"12:30:05", "no number"),
        ("{}", b'-113,"Undefined header"', "no number"),
        ("{}", b"20.5.1", "no number"),
        ("{}", b"0x41", "no number"),
        ("T={}", b"U=20", "no number"),
        ("{}", b"+9.91E+37", "has no value"),
        ("{}", b"9.9e37", "has no value"),
        ("{}", b"\x00\xf8\x80", "wrong baud rate"),
        ("{}", b"\x1b[31m20.0", "wrong baud rate"),
        ("{}", b"2" * 300, "wrong baud rate"),
    ],
)
def test_a_line_that_is_not_plain_is_no_number(pattern, line, word):
    with pytest.raises(Refused, match=word):
        NumberPattern(pattern).read(line)


# --- an instrument that tells by itself ---


@pytest.mark.parametrize(("unit", "said"), [("degC", b"20.0"), ("degF", b"68.0"), ("K", b"293.15")])
def test_a_stream_is_read_in_its_unit(instrument, lines, unit, said):
    instrument.stream = lambda: said + b"\r\n"
    reading = lines(unit=unit, tolerance_K=0.2).read(5.0)
    assert isinstance(reading, Reading)
    assert reading.bath_degC == pytest.approx(20.0)
    assert (reading.tolerance_K, reading.taken_s) == (0.2, 5.0)


def test_lines_that_come_in_bites_are_read_whole_and_the_first_is_left_out(instrument, lines):
    bites = count()
    text = b"18.25\r\n"
    instrument.stream = lambda: text[(n := next(bites) % len(text)) : n + 1]
    probe = lines()
    for _ in range(3):
        assert probe.read(5.0) == Reading(18.25, 0.5, 5.0)


def test_what_waited_long_is_thrown_away(instrument, opened):
    class StoppedClock(BootClock):
        late_s = 0.0

        def now_s(self):
            return super().now_s() + self.late_s

    clock = StoppedClock()
    probe = SerialLinesProbe("bath", str(instrument.path), clock, answers_within_s=PATIENT_S)
    opened.append(probe)
    instrument.stream = lambda: b"18.0\n"
    assert isinstance(probe.read(1.0), Reading)
    clock.late_s = 100.0
    instrument.stream = lambda: b"21.0\n"
    seen = {word.bath_degC for word in (probe.read(101.0), probe.read(102.0)) if isinstance(word, Reading)}
    assert seen == {21.0}


@pytest.mark.parametrize(
    ("stream", "word"),
    [
        (b"", "no line from"),
        (b"\xf8\x00\x80\xff\r\n", "wrong baud rate"),
        (b"\xf8\x00\x80\xff" * 8, "no end of a line"),
        (b"warming up\r\n", "no number"),
        (b"99.0\r\n", "99.0 degC is not the temperature of a bath"),
    ],
)
def test_junk_and_silence_are_no_reading_and_soon_over(instrument, lines, stream, word):
    instrument.stream = lambda: stream
    probe = lines(within_s=PATIENT_S if stream else BRIEF_S)
    answers = [probe.read(5.0) for _ in range(3)]
    assert all(isinstance(answer, NoReading) for answer in answers)
    assert word in answers[-1].why
    instrument.stream = lambda: b"20.0\r\n"
    assert isinstance(until_reading(probe), Reading)


def until_reading(probe):
    """Return a reading; what was underway when the instrument came to its senses may cost some."""
    for _ in range(50):
        word = probe.read(5.0)
        if isinstance(word, Reading):
            break
    return word


# --- an instrument that is asked ---


def test_an_instrument_is_asked_for_its_name_once_and_then_for_the_temperature(instrument, query):
    instrument.answer = polite(b"+2.00000000E+01\n")
    probe = query(instrument="cold shore works")
    assert probe.read(5.0) == Reading(20.0, 0.5, 5.0)
    assert probe.read(6.0) == Reading(20.0, 0.5, 6.0)
    assert instrument.asked == [b"*IDN?", b"MEAS:TEMP?", b"MEAS:TEMP?"]
    assert probe.model == NAME.decode().strip()


def test_another_instrument_on_the_port_is_not_believed(instrument, query):
    instrument.answer = polite(b"20.0\n")
    answer = query(instrument="Oven Makers").read(5.0)
    assert isinstance(answer, NoReading)
    assert "another instrument answers" in answer.why
    assert b"MEAS:TEMP?" not in instrument.asked


def test_a_late_answer_is_never_taken_for_the_next_one(instrument, query):
    instrument.answer = polite(b"20.0\n")
    probe = query(within_s=0.2)
    assert isinstance(until_reading(probe), Reading)
    instrument.answer = polite(b"")
    assert isinstance(probe.read(6.0), NoReading)
    instrument.asked.clear()
    # The answer that was due before comes now, just ahead of the next: the name tells where we are.
    late = iter([b"99.9\n" + NAME, b"21.0\n"])
    instrument.answer = lambda line: next(late, b"")
    assert probe.read(7.0) == Reading(21.0, 0.5, 7.0)
    assert instrument.asked == [b"*IDN?", b"MEAS:TEMP?"]


@pytest.mark.parametrize(
    ("answer", "word"),
    [
        (lambda line: b"", "no answer to"),
        (lambda line: b"\xf8\x00\x80,,,\r\n", "wrong baud rate"),
        (polite(b'-113,"Undefined header"\n'), "no number"),
        (polite(b"9.91E37\n"), "no value"),
        (polite(b"2"), "no answer to MEAS:TEMP?"),
    ],
)
def test_no_answer_or_a_wrong_one_is_no_reading(instrument, query, answer, word):
    instrument.answer = answer
    silent = answer(b"MEAS:TEMP?")[-1:] != b"\n"
    word_said = query(within_s=0.3 if silent else PATIENT_S).read(5.0)
    assert isinstance(word_said, NoReading)
    assert word in word_said.why


# --- the port itself ---


def test_a_port_that_hangs_up_says_so_and_is_opened_again_when_it_is_back(instrument, lines):
    instrument.stream = lambda: b"20.0\n"
    probe = lines()
    assert isinstance(probe.read(1.0), Reading)
    instrument.unplug()
    gone = probe.read(2.0)
    assert isinstance(gone, NoReading)
    assert isinstance(probe.read(3.0), NoReading)
    instrument.plug_in()
    assert until_reading(probe).bath_degC == 20.0


def test_a_port_belongs_to_one_probe(instrument, lines):
    instrument.stream = lambda: b"20.0\n"
    first, second = lines(), lines()
    assert isinstance(first.read(1.0), Reading)
    refused = second.read(1.0)
    assert isinstance(refused, NoReading)
    assert "another program has it" in refused.why


def test_closing_wakes_a_read_that_waits(instrument, lines):
    probe = lines(within_s=60.0)
    said = []
    reading = threading.Thread(target=lambda: said.append(probe.read(1.0)))
    reading.start()
    while probe._lines._wire._port is None:
        pass
    probe.close()
    reading.join(PATIENT_S)
    assert said == [NoReading("the probe is closed", 1.0)]


# --- a light sensor ---


def test_a_light_sensor_is_read_as_a_stream_and_says_why_it_is_not(instrument, opened):
    instrument.stream = lambda: b"lux 815.0\r\n"
    clock = BootClock()
    sensor = SerialLightSensor(
        "cell", str(instrument.path), clock, pattern="lux {}", answers_within_s=PATIENT_S
    )
    opened.append(sensor)
    before_s = clock.now_s()
    light = sensor.read()
    assert isinstance(light, Light)
    assert light.shown == 815.0
    assert before_s <= light.taken_s <= clock.now_s()
    instrument.unplug()
    assert isinstance(sensor.read(), NoLight)
