"""What any probe must do, run over every body: a reading with its moment, or none and why."""

import pytest

from firmware_py.devices.clock import BootClock
from firmware_py.devices.onewire import OneWireProbe
from firmware_py.devices.probe import NoReading, Reading
from firmware_py.devices.serial_lines_probe import SerialLinesProbe
from firmware_py.devices.serial_query_probe import SerialQueryProbe
from firmware_py.devices.simulated import SimulatedProbe
from tests.devices.instruments import Instrument, polite
from tests.devices.w1_folder import SERIAL, W1Folder


class ProbeContract:
    """A reading carries its moment; trouble is no reading, and neither an exception nor the last value."""

    source = "probe"

    @pytest.fixture
    def probe(self):
        """Yield a probe in water of 20 degC."""
        raise NotImplementedError

    def break_it(self, probe):
        raise NotImplementedError

    def mend_it(self, probe):
        raise NotImplementedError

    def test_it_reads_the_water_and_says_when_and_how_surely(self, probe):
        reading = probe.read(100.0)
        assert isinstance(reading, Reading)
        assert reading.bath_degC == 20.0
        assert reading.taken_s == 100.0
        assert reading.tolerance_K == 0.5
        assert reading.source == self.source

    def test_a_broken_one_gives_no_reading_and_a_reason_and_a_mended_one_reads_again(self, probe):
        assert isinstance(probe.read(100.0), Reading)
        self.break_it(probe)
        broken = probe.read(101.0)
        assert isinstance(broken, NoReading)
        assert broken.why
        assert broken.taken_s == 101.0
        self.mend_it(probe)
        assert isinstance(probe.read(102.0), Reading)

    def test_a_closed_one_gives_no_reading_and_may_be_closed_again(self, probe):
        probe.close()
        probe.close()
        assert isinstance(probe.read(100.0), NoReading)


class TestSimulatedProbe(ProbeContract):
    @pytest.fixture
    def probe(self):
        return SimulatedProbe("tray", lambda _time_s: 20.0)

    def break_it(self, probe):
        probe.trouble = "unplugged"

    def mend_it(self, probe):
        probe.trouble = ""


class TestOneWireProbe(ProbeContract):
    @pytest.fixture
    def probe(self, tmp_path):
        self.folder = W1Folder(tmp_path)
        self.folder.show(20.0)
        return OneWireProbe("tray", SERIAL, folder=tmp_path)

    def break_it(self, probe):
        self.folder.unplug()

    def mend_it(self, probe):
        self.folder.show(20.0)


class SerialContract(ProbeContract):
    """The port vanishes with the instrument and comes back with it."""

    __test__ = False
    body: type
    streamed: bytes

    @pytest.fixture
    def probe(self, tmp_path):
        self.instrument = Instrument(
            tmp_path / "port", answer=polite(b"20.0\n"), stream=lambda: self.streamed
        )
        probe = self.body("tray", str(self.instrument.path), BootClock(), answers_within_s=10.0)
        yield probe
        probe.close()
        self.instrument.unplug()

    def break_it(self, probe):
        self.instrument.unplug()

    def mend_it(self, probe):
        self.instrument.plug_in()


class TestSerialLinesProbe(SerialContract):
    __test__ = True
    body = SerialLinesProbe
    streamed = b"20.0\r\n"


class TestSerialQueryProbe(SerialContract):
    __test__ = True
    body = SerialQueryProbe
    streamed = b""
